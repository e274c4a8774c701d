namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Where a sensor's battery is going.</summary>
/// <param name="PerDay">Robust slope in volts or percent a day; null when it can't be told.</param>
/// <param name="DaysLeft">Days from now to empty at that slope; null when it can't be told.</param>
/// <param name="NotYet">Why something can't be told, or null.</param>
public sealed record BatteryTrend(double? PerDay, double? DaysLeft, Reason? NotYet)
{
    /// <summary>Where it stands now on its trend, in volts or percent; null when it can't be told.</summary>
    public double? Level { get; init; }

    /// <summary>Days from now until a battery in volts is down to where its device stops, at the present slope; null when it can't be told.</summary>
    /// <remarks>Volts of many cells fall faster at the end: a straight line is the longest that it can last.</remarks>
    /// <param name="volts">Where the device stops; 0 when that is not known.</param>
    public double? DaysLeftTo(double volts) => volts > 0 && NotYet is { Code: "battery-volts" } && Level is { } level && PerDay is { } slope ? Math.Max(0, (level - volts) / -slope) : null;

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

        var level = Batches.Cleaning.Hampel.MedianInPlace(values.Select((value, i) => value - (slope * days[i])).ToArray());
        return unit == MeasurementUnit.Percent
            ? new BatteryTrend(slope, Math.Max(0, level / -slope), null) { Level = level }
            : new BatteryTrend(slope, null, Reason.Of("battery-volts")) { Level = level };
    }
}
