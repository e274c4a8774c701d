using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Total sulfite from the ledger of additions, against the limit.</summary>
internal static class SulfiteTotal
{
    private static readonly NumberListInput Additions = new("additions", "Additions so far, as sulfur dioxide", QuantityKind.SmallDose, 0, 300, 0, 40, Optional: true, Help: "Each in mg/L of the volume of that day, with semicolons between.");
    private static readonly NumberInput MeasuredTotal = new("measured-total", "Total sulfite measured before these additions", QuantityKind.SmallDose, 0, 500, Optional: true, Help: "Counts instead of everything added before it was measured: leave those additions out.");
    private static readonly NumberInput VolumeInput = new("volume", "Volume before the pour", QuantityKind.Volume, 0.1, 10000, Optional: true);
    private static readonly NumberInput Poured = new("poured", "Poured in afterwards: top-up, blend, syrup", QuantityKind.Volume, 0, 10000, Optional: true);
    private static readonly NumberInput PouredTotal = new("poured-sulfite", "Total sulfite of what was poured in", QuantityKind.SmallDose, 0, 400, Usual: 0);

    private static readonly NumberOutput Total = new("total-sulfite", "Total sulfite added", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Highest = new("total-highest", "with what yeast forms, at most", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Room = new("room-left", "Left under the limit", QuantityKind.SmallDose, 0);
    private static readonly TextOutput Label = new("label", "On the label");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-total",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Total sulfite from the ledger",
        Purpose = "What was added in all, thinned by what was poured in, against the limit of a law. Racking and samples do not change a concentration; what air takes is not known, so this is an upper bound.",
        Inputs = [Additions, MeasuredTotal, VolumeInput, Poured, PouredTotal, SulfiteFields.Color, SulfiteFields.Sugar, LawField.Input],
        Outputs = [Total, Highest, SulfiteFields.Limit, Room, Label],
        Sources = [WorksheetSource.Computed("balance of mass"), WorksheetSource.Published("ZangFranzen1966", "yeast forms less than 30 mg/L"), .. SulfiteFields.LimitSources],
        Cautions = [Caution.Sulfite, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("additions=50;30;20 volume=20 poured=5 color=red law=eu", "computed by hand: 100 x 20/25, limit 150", new("total-sulfite", 80, 1e-9), new("total-limit", 150, 0), new("room-left", 70, 1e-9)),
            WorkedExample.Of("measured-total=90 additions=30 color=red law=eu", "computed by hand: 90 + 30, limit 150; a measurement is taken as 10 mg/L either way", new("total-sulfite", 120, 1e-9), new("total-highest", 130, 1e-9), new("room-left", 30, 1e-9)),
            WorkedExample.Saying("additions=120;60", "computed by hand: 180 is above 150, the strictest", "above-total-limit"),
            WorkedExample.Of("additions=3;4", "27 CFR 4.32(e) and Regulation (EU) 1169/2011: from 10 mg/L", ExpectedResult.Words("label", "Yeast alone may form 10 mg/L: measure, or write contains sulfites.")),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var entries = values.Of(Additions).Select(addition => (SulfiteEntry)new SulfiteEntry.Added(MassConcentration.FromMilligramsPerLiter(addition))).ToList();
        if (values.Maybe(Poured) is { } poured)
        {
            entries.Add(new SulfiteEntry.ToppedUp(
                Volume.FromLiters(values.Needed(VolumeInput, "because something was poured in")),
                Volume.FromLiters(poured),
                MassConcentration.FromMilligramsPerLiter(values.Of(PouredTotal))));
        }

        if (values.Maybe(MeasuredTotal) is { } measured)
        {
            entries.Insert(0, new SulfiteEntry.Measured(MassConcentration.FromMilligramsPerLiter(measured)));
        }

        var total = SulfiteLedger.Total(entries);
        var (sum, limit) = (total.Value.MilligramsPerLiter, SulfiteFields.LimitFor(values).MilligramsPerLiter);
        IReadOnlyList<WorksheetResult> results =
        [
            Total.Is(sum),
            Highest.Is(sum + total.Tolerance),
            SulfiteFields.Limit.Is(limit),
            Room.Is(Math.Max(0, limit - sum)),
            Label.Is(SulfiteLimits.NeedsLabel(total.Value) ? "contains sulfites" : "Yeast alone may form 10 mg/L: measure, or write contains sulfites."),
        ];
        IReadOnlyList<WorksheetNotice> notices = sum > limit
            ? [WorksheetNotice.Warning("above-total-limit", $"{sum:F0} mg/L were added; the limit is {limit:F0} mg/L.")]
            : sum + total.Tolerance > limit
                ? [WorksheetNotice.Warning("near-total-limit", "With what yeast may have formed, the total can be above the limit: measure it.")]
                : [];
        return new WorksheetAnswer(results, notices);
    }
}
