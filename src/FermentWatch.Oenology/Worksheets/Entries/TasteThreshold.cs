using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A personal threshold from an ascending forced choice.</summary>
internal static class TasteThreshold
{
    private static readonly NumberListInput Concentrations = new("concentrations", "Concentrations, weakest first", QuantityKind.Dose, 0.000001, 1000, 2, 10, Help: "Each step 2 to 3 times the one before.");
    private static readonly NumberListInput Hits = new("hits", "Found the spiked glass: 1 for yes, 0 for no", QuantityKind.Count, 0, 1, 2, 10, Help: "At each step one spiked glass among three.");

    private static readonly NumberOutput Threshold = new("threshold", "Your threshold", QuantityKind.Dose, 4);
    private static readonly NumberOutput Luck = new("luck", "Chance of ending like this without perceiving anything", QuantityKind.Percent, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "taste-threshold",
        Subject = WorksheetSubject.Tasting,
        Title = "Your threshold from an ascending forced choice",
        Purpose = "From which concentration on you find the one spiked glass among three. It holds for you, for the day and for the base it was tasted in; thresholds differ ten- to a hundredfold between people.",
        Inputs = [Concentrations, Hits],
        Outputs = [Threshold, Luck],
        Sources =
        [
            WorksheetSource.Published("ASTME679", "best estimate: geometric mean of the last miss and the next step"),
            WorksheetSource.Computed("(1/3) to the power of the hits in a row at the top"),
        ],
        Cautions = [Caution.AlcoholServed],
        Examples =
        [
            WorkedExample.Of("concentrations=0.5;1;2;4;8;16 hits=0;1;0;1;1;1", "exercise of a public university course on the forced choice", new("threshold", 2.8284, 0.0005), new("luck", 3.7, 0.05)),
            WorkedExample.Saying("concentrations=1;2;4 hits=0;0;1", "computed by hand: one hit at the top is luck one time in three", "may-be-luck"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (concentrations, hits) = (values.Of(Concentrations), values.Of(Hits));
        if (concentrations.Zip(concentrations.Skip(1)).Any(pair => !(pair.First < pair.Second)))
        {
            throw values.Wrong(Concentrations, "rising numbers");
        }

        if (hits.Count != concentrations.Count || hits.Any(hit => hit is not (0 or 1)))
        {
            throw values.Wrong(Hits, "one 1 or 0 for each concentration");
        }

        var found = ForcedChoice.BestEstimate(concentrations, [.. hits.Select(hit => hit > 0.5)]);
        var notices = new List<WorksheetNotice>();
        if (found.MayBeLuck)
        {
            notices.Add(WorksheetNotice.Warning("may-be-luck", $"Somebody who perceives nothing ends like this {100 * found.ProbabilityOfLuckyTop:0} times in 100. Repeat the top steps until two or three in a row are right."));
        }

        if (found.Place is ThresholdPlace.AboveSeries)
        {
            notices.Add(WorksheetNotice.Note("above-series", "Missed at the top: the threshold is above the series, and the number only half a step beyond it."));
        }

        if (found.Place is ThresholdPlace.BelowSeries)
        {
            notices.Add(WorksheetNotice.Note("below-series", "Right at every step: the threshold is below the series, and the number only half a step beneath it."));
        }

        return new WorksheetAnswer([Threshold.Significant(found.Concentration, 2).Is(found.Concentration), Luck.Is(100 * found.ProbabilityOfLuckyTop)], notices);
    }
}
