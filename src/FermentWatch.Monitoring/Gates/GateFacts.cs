using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>What the gates stand on.</summary>
/// <param name="View">The batch as its readings show it.</param>
/// <param name="Settings">Waiting times and limits.</param>
public sealed record GateFacts(BatchView View, GateSettings Settings)
{
    /// <summary>How far from a hand reading the sensor's level is looked for: a ferment at its end moves little in a day.</summary>
    public static TimeSpan SensorReach { get; } = TimeSpan.FromHours(12);

    /// <summary>Since when the alert <c>ready-to-stabilize</c> stands; null while it does not.</summary>
    public EventTime? ReadySince { get; init; }

    /// <summary>The facts of a batch whose alerts are known.</summary>
    /// <param name="view">The batch.</param>
    /// <param name="alerts">Its alerts; a 'ready' that somebody called wrong is none.</param>
    /// <param name="settings">Waiting times and limits.</param>
    public static GateFacts Of(BatchView view, AlertSet alerts, GateSettings settings)
    {
        ArgumentNullException.ThrowIfNull(alerts);
        var ready = alerts.Alerts.LastOrDefault(alert => alert is { Rule: FinishRules.ReadyId, Standing: AlertStanding.Raised, DisputedAt: null });
        return new(view, settings) { ReadySince = ready?.RaisedAt };
    }

    /// <summary>The journal up to now.</summary>
    public IEnumerable<JournalEntry> Past() => View.Journal.Where(entry => entry.At <= View.Now);

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

    /// <summary>The same without samples that are said not to have been degassed: bubbles lift a hydrometer, and it reads too high.</summary>
    public IEnumerable<JournalEntry> CountingReadings() => HandReadings().Where(entry => !IsGassy(entry));

    /// <summary>Whether a sample is said not to have been degassed; an entry that does not tell is none.</summary>
    public static bool IsGassy(JournalEntry entry) => entry.HoldsGas();

    /// <summary>Whether a value was measured recently enough to count today.</summary>
    public bool IsFresh(EventTime at) => View.Now - at <= Settings.MeasuredWithin;

    /// <summary>
    /// What the sensor showed at a moment, before a hand reading then moved it: else the median of the curve within <see cref="SensorReach"/>, hand readings left out; null
    /// where it was not heard. [points]
    /// </summary>
    public double? SensorAt(EventTime at)
    {
        // The curve is moved to its hand readings: compared with that, every one would agree.
        foreach (var pair in View.HandPairs)
        {
            if (pair.At == at)
            {
                return pair.SensorPoints;
            }
        }

        var hand = HandReadings().Select(entry => entry.At).ToHashSet();
        var near = View.Gravity.Where(point => (point.At - at).Duration() <= SensorReach && !hand.Contains(point.At)).Select(point => point.Gravity.Points).Order().ToList();
        return near.Count == 0 ? null : (near[(near.Count - 1) / 2] + near[near.Count / 2]) / 2;
    }

    /// <summary>Mean temperature since a moment, or the newest known one; null where none is known. [°C]</summary>
    public double? CelsiusSince(EventTime from)
    {
        var (sum, count) = (0.0, 0);
        foreach (var point in View.Temperature)
        {
            (sum, count) = point.At >= from ? (sum + point.Temperature.Celsius, count + 1) : (sum, count);
        }

        return count > 0 ? sum / count : View.LatestTemperature?.Value.Celsius;
    }
}
