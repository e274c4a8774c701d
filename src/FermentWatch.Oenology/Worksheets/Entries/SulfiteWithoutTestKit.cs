using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Sulfite by history, for who can't measure the free.</summary>
internal static class SulfiteWithoutTestKit
{
    private static readonly ChoiceInput<SulfiteHistory> History = new(
        "history",
        "Sulfite was last added",
        [
            (SulfiteHistory.NoneSinceFermentation, "Not since fermentation ended"),
            (SulfiteHistory.MoreThanEightWeeks, "More than eight weeks ago"),
            (SulfiteHistory.TwoToEightWeeks, "Two to eight weeks ago"),
            (SulfiteHistory.LessThanTwoWeeks, "Less than two weeks ago"),
        ]);

    private static readonly TextOutput Standing = new("standing", "How sure this is");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-without-test-kit",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Sulfite without a test kit",
        Purpose = "A usual range by what was added before. Free sulfite is lost at no reliable rate, so this is met by practice and not measured.",
        Inputs =
        [
            SulfiteFields.Volume, SulfiteFields.Ph, History, SulfiteFields.Salt, SulfiteFields.Strength, SulfiteFields.Total,
            SulfiteFields.Color, SulfiteFields.Sugar, LawField.Input,
        ],
        Outputs = [Standing, .. SulfiteFields.AdditionOutputs],
        Sources =
        [
            WorksheetSource.CommonPractice("40 to 60 mg/L after fermentation, 30 to 50 or 20 to 30 later, by the time since the last addition"),
            WorksheetSource.Published("PWV2014", "35 to 75 % of the total is free"),
            WorksheetSource.Computed("strength of the powder by atomic masses"),
            .. SulfiteFields.LimitSources,
        ],
        Cautions = [Caution.Sulfite, Caution.MeasureFirst, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 ph=3.4 history=none-since-fermentation", "computed by hand: 40 mg/L x 20 L / 0.5763", new("addition-first", 40, 0), new("addition-most", 60, 0), new("powder-first", 1.39, 0.005), ExpectedResult.Words("standing", "Met by practice, not measured.")),
            WorkedExample.Saying("volume=20 ph=3.4 history=two-to-eight-weeks total-sulfite=80", "Practical Winery & Vineyard 2014: 35 to 75 %", "free-by-share"),
            WorkedExample.Saying("volume=20 ph=3.9 history=two-to-eight-weeks", "common practice, no source: acid first above pH 3.6", "acid-first", "total-unknown"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var range = SulfiteByHistory.RangeOf(values.Of(History));
        var notices = new List<WorksheetNotice>(SulfiteFields.PhNotices(values.Of(SulfiteFields.Ph), 0));
        if (range.Most.MilligramsPerLiter <= 0)
        {
            notices.Add(WorksheetNotice.Note("enough", "Too soon for another addition without a measurement: wait."));
        }

        if (values.Maybe(SulfiteFields.Total) is { } total)
        {
            var (least, most) = FreeShare.Of(MassConcentration.FromMilligramsPerLiter(total));
            notices.Add(WorksheetNotice.Note("free-by-share", $"Of a measured total of {total:F0} mg/L, {least.MilligramsPerLiter:F0} (turbid, sweet) to {most.MilligramsPerLiter:F0} mg/L (clean, dry) are usually free; of a total only summed up it can be less, even none."));
        }

        return SulfiteFields.Answer(
            values,
            range,
            [Standing.Is("Met by practice, not measured.", "A test for free sulfite costs little and shows whether this holds.")],
            notices);
    }
}
