using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>What the gates stand on.</summary>
/// <param name="View">The batch as its readings show it.</param>
/// <param name="Settings">Waiting times and limits.</param>
public sealed record GateFacts(BatchView View, GateSettings Settings)
{
    /// <summary>The newest entry of any of these kinds, or null.</summary>
    public JournalEntry? Last(params ReadOnlySpan<JournalKind> kinds)
    {
        JournalEntry? last = null;
        foreach (var entry in View.Journal)
        {
            last = entry.At <= View.Now && kinds.Contains(entry.Kind) ? entry : last;
        }

        return last;
    }

    /// <summary>The newest entry in which a field was measured, or null.</summary>
    public JournalEntry? Measured(string field)
    {
        JournalEntry? last = null;
        foreach (var entry in View.Journal)
        {
            last = entry.At <= View.Now && entry.Number(field) is not null ? entry : last;
        }

        return last;
    }

    /// <summary>Gravity read by hand, by time.</summary>
    public IEnumerable<JournalEntry> HandReadings() =>
        View.Journal.Where(entry => entry.Kind is JournalKind.MeasuredByHand && entry.Gravity is not null && entry.At <= View.Now);

    /// <summary>Whether a value was measured recently enough to count today.</summary>
    public bool IsFresh(EventTime at) => View.Now - at <= Settings.MeasuredWithin;
}
