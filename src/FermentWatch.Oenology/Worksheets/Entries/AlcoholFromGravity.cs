using FermentWatch.Oenology.Alcohol;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Alcohol and what is left of the sugar, from two gravities.</summary>
internal static class AlcoholFromGravity
{
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.000, 1.200, Help: "Before fermentation, at 20 °C; every sugar added later counted in.");
    private static readonly NumberInput Present = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.970, 1.200, Help: "Degassed, at 20 °C.");

    private static readonly NumberOutput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Linear = new("alcohol-linear-rule", "Alcohol by the linear rule, to compare", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Extract = new("real-extract", "Real extract", QuantityKind.SugarConcentration, 0);
    private static readonly NumberOutput Left = new("sugar-left", "Sugar left", QuantityKind.SugarConcentration, 0);
    private static readonly NumberOutput Consumed = new("sugar-consumed", "Sugar consumed", QuantityKind.Percent, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "alcohol-from-gravity",
        Subject = WorksheetSubject.Gravity,
        Title = "Alcohol from original and present gravity",
        Purpose = "How much alcohol has formed and about how much sugar is left. An estimate: a gravity never proves that no sugar is left, because alcohol is lighter than water and hides it.",
        Inputs = [Original, Present],
        Outputs = [Alcohol, Linear, Extract, Left, Consumed],
        Sources =
        [
            WorksheetSource.Published("Balling1865", "mass balance of alcohol, gas and yeast"),
            WorksheetSource.Published("OIMLR22", "density of ethanol and water"),
            WorksheetSource.Published("Bubnik1995", "density of sucrose solutions"),
            WorksheetSource.CommonPractice("the linear rule 131.25 x (original - present gravity)"),
        ],
        Cautions = [Limits.Caution.SteadyHydrometer],
        Examples =
        [
            WorkedExample.Of("original-gravity=1.090 present-gravity=0.992", "model M1 computed by a second program; the linear rule by hand: 131.25 x 0.098", new("alcohol", 13.11, 0.02), new("alcohol-linear-rule", 12.86, 0.005)),
            WorkedExample.Of("original-gravity=1.110 present-gravity=0.995", "model M1 computed by a second program", new ExpectedResult("alcohol", 15.53, 0.02)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (original, present) = (values.Gravity(Original), values.Gravity(Present));
        if (present > original)
        {
            throw values.Wrong(Present, "at most the original gravity; if sugar was added, count it into the original gravity (step feeding)");
        }

        var balance = MassBalance.Of(original, present);
        var start = balance.SugarAtStart.Value.GramsPerLiter;
        var results = new List<WorksheetResult>
        {
            Alcohol.Is(balance.Alcohol, alcohol => alcohol.Percent),
            Linear.Is(LinearAlcoholRule.Of(original, present), alcohol => alcohol.Percent),
            Extract.Is(balance.RealExtract, extract => extract.GramsPerLiter),
        };
        var notices = new List<WorksheetNotice>();
        var left = balance.SugarLeft;
        if (left.Value.GramsPerLiter > left.Tolerance)
        {
            results.Add(Left.Is(left, sugar => sugar.GramsPerLiter));
        }
        else
        {
            notices.Add(WorksheetNotice.Note("sugar-left-unknown", "Too little sugar to tell from gravity: between none and about 25 g/L may be left. Alcohol is lighter than water and hides sugar; only a sugar test shows it."));
        }

        if (start > MassBalance.SugarToleranceGramsPerLiter)
        {
            results.Add(Consumed.Is(100 * Math.Clamp(1 - (left.Value.GramsPerLiter / start), 0, 1), 100 * left.Tolerance / start, left.Validity));
        }

        return new WorksheetAnswer(results, notices);
    }
}
