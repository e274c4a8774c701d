using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class DeviceClockTests
{
    [Theory]
    // RFC 3339, section 5.8: the examples and the equivalences that it states.
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z")]
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z")]
    [InlineData("1990-12-31T23:59:60Z", "1991-01-01T00:00:00Z")]
    [InlineData("1990-12-31T15:59:60-08:00", "1991-01-01T00:00:00Z")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.87Z")]
    // RFC 3339, section 5.6, notes: lower case and a space.
    [InlineData("1985-04-12t23:20:50.52z", "1985-04-12T23:20:50.52Z")]
    [InlineData("1985-04-12 23:20:50.52Z", "1985-04-12T23:20:50.52Z")]
    // Short offsets, omitted seconds, a comma before the fraction: ISO 8601-1:2019 (from memory).
    [InlineData("2026-03-14T09:26+0100", "2026-03-14T08:26:00Z")]
    [InlineData("2026-03-14T09:26:53,25+01", "2026-03-14T08:26:53.25Z")]
    [InlineData("2024-02-29T00:00:00.123456789Z", "2024-02-29T00:00:00.123456Z")]
    [InlineData("2026-03-14T09:26:53-00:00", "2026-03-14T09:26:53Z")]
    public void DateWithOffset_IsRead(string text, string utc) =>
        Assert.Equal(utc, Read(JsonSerializer.Serialize(text), TimeFormat.Iso8601).Time?.ToString());

    [Theory]
    [InlineData("\"2026-03-14T09:26:53\"", DecodeReasons.TimeWithoutOffset)]
    [InlineData("\"2026-03-14T09:26\"", DecodeReasons.TimeWithoutOffset)]
    [InlineData("\"2023-02-29T00:00:00Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-13-01T00:00:00Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T24:00:00Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T00:60:00Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T00:00:61Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T00:00:00.Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T00:00:00+24:00\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"2026-01-01T00:00:00 CET\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"0000-01-01T00:00:00Z\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"0001-01-01T00:00:00+01:00\"", DecodeReasons.TimeOutOfRange)]
    [InlineData("\"14.03.2026 09:26\"", DecodeReasons.TimeUnreadable)]
    [InlineData("\"\"", DecodeReasons.TimeUnreadable)]
    [InlineData("1773480413", DecodeReasons.TimeUnreadable)]
    [InlineData("null", DecodeReasons.TimeUnreadable)]
    public void AnyOtherDate_IsRejected(string json, string code) => Assert.Equal(code, Read(json, TimeFormat.Iso8601).Code);

    [Theory]
    // 1773480413 s is 2026-03-14T09:26:53Z (GNU date -u -d @1773480413).
    [InlineData("1773480413", TimeFormat.UnixSeconds, "2026-03-14T09:26:53Z")]
    [InlineData("1773480413.123456", TimeFormat.UnixSeconds, "2026-03-14T09:26:53.123456Z")]
    [InlineData("\"1773480413\"", TimeFormat.UnixSeconds, "2026-03-14T09:26:53Z")]
    [InlineData("1773480413250", TimeFormat.UnixMilliseconds, "2026-03-14T09:26:53.25Z")]
    [InlineData("12", TimeFormat.UnixSeconds, "1970-01-01T00:00:12Z")]
    [InlineData("-1", TimeFormat.UnixSeconds, "1969-12-31T23:59:59Z")]
    public void Count_IsRead(string json, TimeFormat format, string utc) => Assert.Equal(utc, Read(json, format).Time?.ToString());

    [Theory]
    [InlineData("1773480413250", TimeFormat.UnixSeconds, DecodeReasons.TimeFitsMilliseconds)]
    [InlineData("1773480413", TimeFormat.UnixMilliseconds, DecodeReasons.TimeFitsSeconds)]
    [InlineData("1e300", TimeFormat.UnixSeconds, DecodeReasons.TimeOutOfRange)]
    [InlineData("-1e18", TimeFormat.UnixMilliseconds, DecodeReasons.TimeOutOfRange)]
    [InlineData("1e999", TimeFormat.UnixMilliseconds, DecodeReasons.TimeUnreadable)]
    [InlineData("\"soon\"", TimeFormat.UnixSeconds, DecodeReasons.TimeUnreadable)]
    [InlineData("{}", TimeFormat.UnixSeconds, DecodeReasons.TimeUnreadable)]
    public void CountThatCannotBe_IsRejected(string json, TimeFormat format, string code) => Assert.Equal(code, Read(json, format).Code);

    private static (EventTime? Time, string? Code) Read(string json, TimeFormat format)
    {
        using var document = JsonDocument.Parse(json);
        var time = DeviceClock.Read(document.RootElement, format, out var why);
        Assert.NotEqual(time is null, why is null);
        return (time, why?.Code);
    }
}
