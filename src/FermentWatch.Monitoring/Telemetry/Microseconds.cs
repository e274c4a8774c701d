namespace FermentWatch.Monitoring.Telemetry;

/// <summary>The one conversion between the stored count of microseconds and a date.</summary>
internal static class Microseconds
{
    public static long Of(DateTimeOffset time) => (time.UtcTicks - DateTimeOffset.UnixEpoch.UtcTicks) / TimeSpan.TicksPerMicrosecond;

    /// <summary>Clamps to what a date can hold: a stored number may come from a device with a broken clock.</summary>
    public static DateTimeOffset ToDateTimeOffset(long microseconds)
    {
        var lowest = Of(DateTimeOffset.MinValue);
        var highest = Of(DateTimeOffset.MaxValue);
        return DateTimeOffset.UnixEpoch.AddTicks(Math.Clamp(microseconds, lowest, highest) * TimeSpan.TicksPerMicrosecond);
    }
}
