using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A value that a batch gives to a field, and where it comes from.</summary>
/// <param name="Kept">In the unit that the field keeps.</param>
/// <param name="From">A short sentence: 'Measured Oct 4, 4:10 pm.'</param>
internal readonly record struct BatchValue(double Kept, string From);

/// <summary>What a batch knows of the fields that worksheets share; see the remarks of the catalogue for their keys.</summary>
internal static class BatchValues
{
    // Field of a worksheet -> field of an entry that was measured by hand. Titratable acidity is written as tartaric in both.
    private static readonly (string Key, string Field)[] Measured =
    [
        ("ph", "ph"), ("titratable-acidity", "total-acid"), ("free-sulfite", "free-sulfite"), ("total-sulfite", "total-sulfite"), ("nitrogen", "nitrogen"),
    ];

    /// <summary>Values of a batch by the key of the field.</summary>
    /// <param name="entry">The batch as it is shown.</param>
    /// <param name="facts">Its facts; null when they can't be read now.</param>
    /// <param name="reader">The reader.</param>
    public static Dictionary<string, BatchValue> Of(BoardEntry entry, BatchFacts? facts, Reader reader)
    {
        var view = entry.View;
        var values = new Dictionary<string, BatchValue>(StringComparer.Ordinal);
        if (view.LatestGravity is { } gravity)
        {
            values["present-gravity"] = new(gravity.Value.Value, BenchText.Of("from-reading", reader.Moment(gravity.At)));
        }

        if (view.LatestTemperature is { } temperature)
        {
            values["temperature"] = new(temperature.Value.Celsius, BenchText.Of("from-reading", reader.Moment(temperature.At)));
        }

        if (view.Alcohol is { } alcohol)
        {
            values["alcohol"] = new(Math.Round(alcohol.Value.Percent, 1), BenchText.Of("from-balance", reader.Number(alcohol.Tolerance, "0.#")));
        }

        if (view.OriginalGravity is { } original)
        {
            values["original-gravity"] = new(original.Value.Value, BenchText.Of("from-batch"));
        }

        if (facts is not null)
        {
            AddJournal(values, view.Batch, JournalReading.Active([.. facts.Journal], view.Now), reader);
        }

        return values;
    }

    private static void AddJournal(Dictionary<string, BatchValue> values, Batch batch, IReadOnlyList<JournalEntry> active, Reader reader)
    {
        var ledger = Ledger.Of(batch, active);
        if (ledger.Volume is { } volume)
        {
            values["volume"] = new(Math.Round(volume.Liters, 2), ledger.MeasuredAt is { } at ? BenchText.Of("from-measured", reader.Moment(at)) : BenchText.Of("from-batch"));
        }

        if (ledger.OriginalGravity is { } original && ledger.FedPoints > 0)
        {
            values["original-gravity"] = new(original.Value, BenchText.Of("from-fed"));
        }

        foreach (var entry in active.Where(entry => entry.Kind == JournalKind.MeasuredByHand))
        {
            foreach (var (key, field) in Measured)
            {
                if (entry.Number(field) is { } number)
                {
                    values[key] = new(number, BenchText.Of("from-measured", reader.Moment(entry.At)));
                }
            }
        }
    }
}
