using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Sulfite from the free that was measured to a molecular target.</summary>
internal static class SulfiteDoseEntry
{
    private static readonly NumberOutput Needed = new("free-needed", "Free sulfite needed", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Dissociation = new("dissociation-constant", "pKa used", QuantityKind.Ratio, 2);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-dose",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Sulfite: from free now to what is needed",
        Purpose = "How much to add. One third to one half of it binds, more in sweet wine and mead: the lesser is added first, and the rest after a day and a measurement.",
        Inputs =
        [
            SulfiteFields.Volume, SulfiteFields.Ph, SulfiteFields.Free, SulfiteFields.Target, SulfiteFields.Salt, SulfiteFields.Strength,
            SulfiteFields.Total, SulfiteFields.Color, SulfiteFields.Sugar, LawField.Input,
        ],
        Outputs = [Dissociation, Needed, .. SulfiteFields.AdditionOutputs],
        Sources =
        [
            WorksheetSource.Published("UCCE1982", "free sulfite for a molecular target, pKa 1.81"),
            WorksheetSource.Published("PWV2014", "strength of potassium metabisulfite, 57.6 %"),
            WorksheetSource.CommonPractice("one third to one half of an addition binds"),
            .. SulfiteFields.LimitSources,
        ],
        Cautions = [Caution.Sulfite, Caution.MeasureFirst, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 ph=3.3 free-sulfite=10 total-sulfite=60", "computed by hand: 0.8 (1 + 10^1.49) = 25.5; 15.5/(2/3) = 23.3; 23.3 x 20/0.5763 = 808 mg", new("free-needed", 25.5, 0.1), new("addition-first", 23.3, 0.1), new("powder-first", 0.81, 0.005), new("total-after", 83.3, 0.1)),
            WorkedExample.Saying("volume=20 ph=3.3 free-sulfite=0", "computed by hand: nothing free was measured", "nothing-free"),
            WorkedExample.Saying("volume=20 ph=3.9 free-sulfite=10 total-sulfite=120 color=red law=eu", "computed by hand: 89 mg/L more in 120 mg/L is above 150 mg/L", "above-total-limit"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var ph = values.Of(SulfiteFields.Ph);
        var measured = MassConcentration.FromMilligramsPerLiter(values.Of(SulfiteFields.Free));
        var needed = SulfurDioxide.FreeNeeded(MassConcentration.FromMilligramsPerLiter(values.Of(SulfiteFields.Target)), Ph.FromValue(ph));
        var notices = new List<WorksheetNotice>(SulfiteFields.PhNotices(ph, needed.Value.MilligramsPerLiter));
        if (values.Maybe(SulfiteFields.Total) is { } total && total < measured.MilligramsPerLiter)
        {
            throw values.Wrong(SulfiteFields.Total, "at least the free sulfite");
        }

        if (SulfiteDose.For(measured, needed.Value) is not { } addition)
        {
            addition = new SulfiteAddition(needed.Value, needed.Value);
            notices.Add(WorksheetNotice.Warning("nothing-free", "No free sulfite was measured, so all of this may bind: add it, wait a day and measure again."));
        }
        else if (addition.Most.MilligramsPerLiter <= 0)
        {
            notices.Add(WorksheetNotice.Note("enough", "There is enough free sulfite: nothing to add."));
        }
        else
        {
            notices.Add(WorksheetNotice.Note("in-two-parts", "Add the first part, stir without splashing, wait a day, measure, then the rest."));
        }

        return SulfiteFields.Answer(
            values,
            addition,
            [Dissociation.Is(SulfurDioxideDissociation.Usual, SulfurDioxideDissociation.UsualTolerance), Needed.Is(needed, free => free.MilligramsPerLiter)],
            notices);
    }
}
