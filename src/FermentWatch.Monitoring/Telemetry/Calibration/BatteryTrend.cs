namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Where a sensor's battery is going.</summary>
/// <param name="PerDay">Robust slope in volts or percent a day; null when it can't be told.</param>
/// <param name="DaysLeft">Days from now to empty at that slope; null when it can't be told.</param>
/// <param name="NotYet">Why something can't be told, or null.</param>
public sealed record BatteryTrend(double? PerDay, double? DaysLeft, Reason? NotYet)
{
    private const double FewestDays = 3;
    private const int MostPoints = 200;
    private const int FewestPoints = 12;

    /// <summary>Days of readings on which the trend stands. [d] The newest ones: a battery may have been changed before.</summary>
    public static TimeSpan Window { get; } = TimeSpan.FromDays(14);

    /// <summary>Judges the readings of a battery.</summary>
    /// <param name="readings">Time and volts or percent, in time order; hourly means are enough.</param>
    /// <param name="unit">Volts or percent.</param>
    /// <param name="now">Readings later than this, or older than the window, do not count.</param>
    public static BatteryTrend Of(IReadOnlyList<(EventTime At, double Value)> readings, MeasurementUnit unit, EventTime now)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var recent = readings.Where(reading => reading.At <= now && now - reading.At <= Window).ToList();
        var span = recent.Count == 0 ? TimeSpan.Zero : recent[^1].At - recent[0].At;
        if (recent.Count < FewestPoints || span.TotalDays < FewestDays)
        {
            return new BatteryTrend(null, null, Reason.Of("battery-short", new ReasonValue.Length(span)));
        }

        var every = Math.Max(1, (recent.Count + MostPoints - 1) / MostPoints);
        var thin = recent.Where((_, i) => i % every == 0).ToList();
        var days = thin.ConvertAll(reading => (reading.At - now).TotalDays);
        var values = thin.ConvertAll(reading => reading.Value);
        var (slope, _, high) = TheilSen.Interval(days, values);
        if (high >= 0)
        {
            return new BatteryTrend(null, null, Reason.Of("battery-steady"));
        }

        if (unit != MeasurementUnit.Percent)
        {
            return new BatteryTrend(slope, null, Reason.Of("battery-volts"));
        }

        var level = Batches.Cleaning.Hampel.MedianInPlace(values.Select((value, i) => value - (slope * days[i])).ToArray());
        return new BatteryTrend(slope, Math.Max(0, level / -slope), null);
    }
}
