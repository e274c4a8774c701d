using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What a count of right answers says.</summary>
internal static class TastingDifference
{
    private static readonly ChoiceInput<DifferenceMethod> Method = new(
        "method",
        "Kind of test",
        [
            (DifferenceMethod.Triangle, "Triangle: the odd one of three"), (DifferenceMethod.DuoTrio, "Duo-trio: which is the reference"),
            (DifferenceMethod.PairedTwoSided, "Pair: which one is preferred"), (DifferenceMethod.PairedDirectional, "Pair: which has more, direction fixed before"),
        ]);

    private static readonly NumberInput Tasters = new("tasters", "Tasters", QuantityKind.Count, 1, 1000, Help: "Repeats by one person are not independent for showing sameness.");
    private static readonly NumberInput Right = new("right", "Right answers", QuantityKind.Count, 0, 1000, Help: "For a preference the answers for either glass.");

    private static readonly NumberOutput Chance = new("chance", "Chance of this by guessing", QuantityKind.Percent, 1);
    private static readonly NumberOutput Needed = new("needed", "Right answers needed", QuantityKind.Count, 0);
    private static readonly NumberOutput Fewest = new("fewest-tasters", "Fewest tasters who could show anything", QuantityKind.Count, 0);
    private static readonly TextOutput Verdict = new("verdict", "What it says");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "tasting-difference",
        Subject = WorksheetSubject.Tasting,
        Title = "Triangle, duo-trio and paired tests",
        Purpose = "How often chance alone would give a count like this. One time in twenty or less counts as a difference; more often is no proof that the glasses are the same.",
        Inputs = [Method, Tasters, Right],
        Outputs = [Chance, Needed, Fewest, Verdict],
        Sources =
        [
            WorksheetSource.Published("FAOTriangle", "smallest number of right answers in triangle tests"),
            WorksheetSource.Published("AWRIDuoTrio", "smallest number of right answers in duo-trio tests"),
            WorksheetSource.Computed("exact binomial probabilities"),
        ],
        Cautions = [Caution.FewTasters, Caution.AlcoholServed],
        Examples =
        [
            WorkedExample.Of("method=triangle tasters=12 right=8", "triangle table of the FAO manual: 8 of 12", new("chance", 1.88, 0.05), new("needed", 8, 0), ExpectedResult.Words("verdict", "A difference: chance alone would do this no more than one time in twenty.")),
            WorkedExample.Of("method=paired-two-sided tasters=3 right=3", "computed by hand: 2 x 1/8", new("chance", 25, 1e-9), new("fewest-tasters", 6, 0), ExpectedResult.Words("verdict", "Not enough tasters: even if all agree, chance does it too often.")),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (tasters, right) = (Whole(values, Tasters), Whole(values, Right));
        if (right > tasters)
        {
            throw values.Wrong(Right, "at most the number of tasters");
        }

        var result = DifferenceTest.Judge(values.Of(Method), tasters, right);
        var results = new List<WorksheetResult> { Chance.Is(100 * result.ProbabilityByChance) };
        if (result.SmallestSignificant is { } needed)
        {
            results.Add(Needed.Is(needed));
        }

        results.Add(Fewest.Is(result.FewestTasters));
        results.Add(Verdict.Is(result.Verdict switch
        {
            TastingVerdict.Significant => "A difference: chance alone would do this no more than one time in twenty.",
            TastingVerdict.NotSignificant => "Chance alone may have done it. That is no proof that the glasses are the same.",
            _ => "Not enough tasters: even if all agree, chance does it too often.",
        }));
        return new WorksheetAnswer(results, []);
    }

    private static int Whole(WorksheetValues values, NumberInput input) =>
        values.Of(input) is var number && number.Equals(Math.Round(number)) ? (int)number : throw values.Wrong(input, "a whole number");
}
