using System.Text.Json;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Reads a device's own time of its sample. Whether the clock can be trusted is decided later, from the order of arrival.</summary>
internal static class DeviceClock
{
    // 1e11 seconds is the year 5138, 1e11 milliseconds March 1973: no device means either.
    private const double BetweenSecondsAndMilliseconds = 1e11;

    // 1e9 seconds is September 2001; smaller counts are a clock that was never set, which is for the clock repair to see.
    private const double FirstTrueSeconds = 1e9;

    public static EventTime? Read(JsonElement stamp, TimeFormat format, out Reason? why) =>
        format == TimeFormat.Iso8601 ? ReadText(stamp, out why) : ReadCount(stamp, format, out why);

    private static EventTime? ReadText(JsonElement stamp, out Reason? why)
    {
        if (stamp.ValueKind != JsonValueKind.String || !JsonNumber.TryText(stamp, out var text))
        {
            why = Reason.Of(DecodeReasons.TimeUnreadable, Quoted.Value(stamp.GetRawText()));
            return null;
        }

        var time = IsoTime.Read(text, out var code);
        why = code is null ? null : Reason.Of(code, Quoted.Value(text));
        return time;
    }

    private static EventTime? ReadCount(JsonElement stamp, TimeFormat format, out Reason? why)
    {
        if (!JsonNumber.TryRead(stamp, out var count, out _))
        {
            why = Reason.Of(DecodeReasons.TimeUnreadable, Quoted.Value(stamp.GetRawText()));
            return null;
        }

        var inSeconds = format == TimeFormat.UnixSeconds;
        var microseconds = Math.Round(count * (inSeconds ? 1e6 : 1e3));
        var code = Math.Abs(count) switch
        {
            >= BetweenSecondsAndMilliseconds when inSeconds && count > 0 && count < BetweenSecondsAndMilliseconds * 1000 => DecodeReasons.TimeFitsMilliseconds,
            >= FirstTrueSeconds and < BetweenSecondsAndMilliseconds when !inSeconds && count > 0 => DecodeReasons.TimeFitsSeconds,
            _ when microseconds < IsoTime.FirstMicrosecond || microseconds > IsoTime.LastMicrosecond => DecodeReasons.TimeOutOfRange,
            _ => null,
        };
        why = code is null ? null : Reason.Of(code, Quoted.Value(stamp.GetRawText()));
        return code is null ? new EventTime((long)microseconds) : null;
    }
}
