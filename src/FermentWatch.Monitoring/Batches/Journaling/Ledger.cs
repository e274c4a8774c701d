using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What went into a batch under one name.</summary>
/// <param name="Kind">Kind of the entries.</param>
/// <param name="Product">The field or the product's name, as typed first.</param>
/// <param name="Total">Sum of the amounts.</param>
/// <param name="Unit">g, kg or L.</param>
/// <param name="Times">How often an amount was written down.</param>
/// <param name="TimesWithoutAmount">How often none was: the total is then too low.</param>
/// <param name="PerLiter">Total over the liters of today in g/L; null where no volume is known or the unit is a volume.</param>
public sealed record LedgerLine(JournalKind Kind, string Product, double Total, string Unit, int Times, int TimesWithoutAmount, double? PerLiter);

/// <summary>Volume and additives of a batch, as its journal tells.</summary>
/// <param name="Volume">Volume of today: the last measured one with what was added and sampled since; null when none was ever told.</param>
/// <param name="MeasuredAt">When the volume was last measured; null when it never was since the start.</param>
/// <param name="Lines">Running totals, in the order in which each first went in.</param>
/// <param name="FedPoints">Points of gravity that sugar added on the way would have added to the original gravity.</param>
/// <param name="OriginalGravity">Told original gravity with what was fed; null when none was told.</param>
public sealed record Ledger(
    Volume? Volume, EventTime? MeasuredAt, ValueList<LedgerLine> Lines, double FedPoints, SpecificGravity? OriginalGravity)
{
    /// <summary>The ledger of a batch.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="active">Entries that count, by time: see <see cref="JournalReading.Active"/>.</param>
    public static Ledger Of(Batch batch, IReadOnlyList<JournalEntry> active)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(active);
        var volume = batch.Volume?.Liters;
        EventTime? measuredAt = null;
        var sums = new List<LedgerSum>();
        foreach (var entry in active)
        {
            if (entry.Number("volume") is { } measured)
            {
                (volume, measuredAt) = (measured, entry.At);
            }
            else if (entry.Number("added") is { } added)
            {
                volume += added;
            }
            else if (entry.Kind is JournalKind.SugarAdded or JournalKind.Sweetened && entry.Number("kilograms") is { } sugar)
            {
                volume += sugar * StepFeeding.LitersPerKilogram(entry.Word("sweetener"));
            }

            else if (entry.Number("sample") is { } milliliters && volume > milliliters / 1000)
            {
                volume -= milliliters / 1000;
            }

            foreach (var (product, amount, unit) in Additions(entry))
            {
                // Sulfite is one sum, whatever it was added for.
                var kind = product == "sulfite" ? JournalKind.SulfiteAdded : entry.Kind;
                var sum = sums.Find(one => one.Kind == kind && one.Unit == unit && string.Equals(one.Product, product, StringComparison.OrdinalIgnoreCase));
                if (sum is null)
                {
                    sum = new LedgerSum(kind, product, unit);
                    sums.Add(sum);
                }

                sum.Add(amount);
            }
        }

        var fed = StepFeeding.Of(batch, active);
        var points = fed.Sum(one => one.Points);
        return new Ledger(
            volume is > 0 ? Oenology.Quantities.Volume.FromLiters(volume.Value) : null,
            measuredAt,
            ValueList.Of(sums.Select(sum => sum.Line(volume))),
            points,
            batch.OriginalGravity is { } told ? SpecificGravity.FromPoints(told.Points + points) : null);
    }

    private static IEnumerable<(string Product, double? Amount, string Unit)> Additions(JournalEntry entry)
    {
        switch (entry.Kind)
        {
            case JournalKind.Stabilized or JournalKind.SulfiteAdded:
                foreach (var name in (string[])["sulfite", "sorbate"])
                {
                    if (entry.Number(name) is { } grams)
                    {
                        yield return (name, grams, "g");
                    }
                }

                break;
            case JournalKind.SugarAdded or JournalKind.Sweetened:
                yield return (entry.Word("sweetener") ?? "", entry.Number("kilograms"), "kg");
                break;
            case JournalKind.FruitIn:
                yield return (entry.Word("product") ?? "", entry.Number("kilograms"), "kg");
                break;
            case JournalKind.ToppedUp:
                yield return (entry.Word("with") ?? "", entry.Number("added"), "L");
                break;
            case JournalKind.NutrientAdded or JournalKind.OakIn or JournalKind.TanninAdded or JournalKind.AcidAdded or JournalKind.Fined:
                yield return (entry.Word("product") ?? entry.Word("acid") ?? entry.Word("agent") ?? "", entry.Number("grams"), "g");
                break;
        }
    }

    private sealed class LedgerSum(JournalKind kind, string product, string unit)
    {
        private double _total;
        private int _times;
        private int _without;

        public JournalKind Kind => kind;

        public string Product => product;

        public string Unit => unit;

        public void Add(double? amount)
        {
            _total += amount ?? 0;
            _times += amount is null ? 0 : 1;
            _without += amount is null ? 1 : 0;
        }

        public LedgerLine Line(double? liters) => new(
            kind, product, _total, unit, _times, _without,
            liters is > 0 && unit != "L" ? _total * (unit == "kg" ? 1000 : 1) / liters.Value : null);
    }
}
