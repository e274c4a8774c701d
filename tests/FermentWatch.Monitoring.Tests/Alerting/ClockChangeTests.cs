using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Tests.Alerting.Planning;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>
/// Nights and digests across clock changes of both hemispheres and of zones that are off by half an hour. The moments of change and the
/// offsets are those of the IANA time zone database for 2026, worked out by hand.
/// </summary>
public sealed class ClockChangeTests
{
    [Theory]
    // Berlin: +1 to +2 at 01:00Z on March 29, back at 01:00Z on October 25.
    [InlineData("Europe/Berlin", "22:00", "08:00", "2026-03-28T21:30Z", "2026-03-29T06:00Z")]
    [InlineData("Europe/Berlin", "22:00", "08:00", "2026-03-29T05:59Z", "2026-03-29T06:00Z")]
    [InlineData("Europe/Berlin", "22:00", "08:00", "2026-03-29T06:00Z", null)]
    [InlineData("Europe/Berlin", "01:30", "02:30", "2026-03-29T00:45Z", "2026-03-29T01:00Z")]
    [InlineData("Europe/Berlin", "22:00", "08:00", "2026-10-24T20:30Z", "2026-10-25T07:00Z")]
    [InlineData("Europe/Berlin", "22:00", "02:30", "2026-10-25T00:35Z", "2026-10-25T01:30Z")]
    [InlineData("Europe/Berlin", "02:15", "06:00", "2026-10-25T00:20Z", "2026-10-25T05:00Z")]
    [InlineData("Europe/Berlin", "02:15", "06:00", "2026-10-25T01:05Z", "2026-10-25T05:00Z")]
    // New York: -5 to -4 at 07:00Z on March 8, back at 06:00Z on November 1.
    [InlineData("America/New_York", "22:00", "08:00", "2026-03-08T04:00Z", "2026-03-08T12:00Z")]
    [InlineData("America/New_York", "22:00", "08:00", "2026-03-08T12:00Z", null)]
    [InlineData("America/New_York", "22:00", "08:00", "2026-11-01T03:00Z", "2026-11-01T13:00Z")]
    [InlineData("America/New_York", "22:00", "01:30", "2026-11-01T05:45Z", "2026-11-01T06:30Z")]
    // Sydney: +11 to +10 at 16:00Z on April 4, back at 16:00Z on October 3.
    [InlineData("Australia/Sydney", "22:00", "08:00", "2026-04-04T12:00Z", "2026-04-04T22:00Z")]
    [InlineData("Australia/Sydney", "22:00", "02:30", "2026-04-04T15:40Z", "2026-04-04T16:30Z")]
    [InlineData("Australia/Sydney", "22:00", "08:00", "2026-10-03T13:00Z", "2026-10-03T21:00Z")]
    [InlineData("Australia/Sydney", "01:30", "02:30", "2026-10-03T15:45Z", "2026-10-03T16:00Z")]
    // Auckland: +13 to +12 at 14:00Z on April 4, back at 14:00Z on September 26.
    [InlineData("Pacific/Auckland", "22:00", "08:00", "2026-04-04T10:00Z", "2026-04-04T20:00Z")]
    [InlineData("Pacific/Auckland", "22:00", "08:00", "2026-09-26T11:00Z", "2026-09-26T19:00Z")]
    // Lord Howe: by half an hour, +11 to +10:30 at 15:00Z on April 4, back at 15:30Z on October 3.
    [InlineData("Australia/Lord_Howe", "22:00", "08:00", "2026-04-04T12:00Z", "2026-04-04T21:30Z")]
    [InlineData("Australia/Lord_Howe", "22:00", "01:45", "2026-04-04T14:50Z", "2026-04-04T15:15Z")]
    [InlineData("Australia/Lord_Howe", "22:00", "08:00", "2026-10-03T12:30Z", "2026-10-03T21:00Z")]
    [InlineData("Australia/Lord_Howe", "22:00", "02:15", "2026-10-03T15:00Z", "2026-10-03T15:30Z")]
    // Offsets with half an hour: Kolkata +5:30 for good; St. John's -3:30 to -2:30 at 05:30Z on March 8.
    [InlineData("Asia/Kolkata", "22:00", "08:00", "2026-03-02T17:30Z", "2026-03-03T02:30Z")]
    [InlineData("America/St_Johns", "22:00", "08:00", "2026-03-08T02:30Z", "2026-03-08T10:30Z")]
    public void NightOfAClockChange_EndsWhenTheWallClockSays(string zone, string from, string until, string now, string? end)
    {
        var night = new QuietHours(TimeOnly.Parse(from, CultureInfo.InvariantCulture), TimeOnly.Parse(until, CultureInfo.InvariantCulture));
        Assert.Equal(end is null ? null : At(end), night.EndOf(At(now), TimeZoneInfo.FindSystemTimeZoneById(zone)));
    }

    [Theory]
    [InlineData("Europe/Berlin", "2026-03-28T12:00Z")]
    [InlineData("Europe/Berlin", "2026-10-24T12:00Z")]
    [InlineData("America/New_York", "2026-03-07T16:00Z")]
    [InlineData("America/New_York", "2026-10-31T16:00Z")]
    [InlineData("Australia/Sydney", "2026-04-04T00:00Z")]
    [InlineData("Australia/Sydney", "2026-10-03T00:00Z")]
    [InlineData("Pacific/Auckland", "2026-04-04T00:00Z")]
    [InlineData("Pacific/Auckland", "2026-09-26T00:00Z")]
    [InlineData("Australia/Lord_Howe", "2026-04-04T00:00Z")]
    [InlineData("Australia/Lord_Howe", "2026-10-03T00:00Z")]
    [InlineData("America/St_Johns", "2026-03-07T12:00Z")]
    [InlineData("America/St_Johns", "2026-10-31T12:00Z")]
    public void DigestAcrossAClockChange_ComesOnceOnEachDay(string name, string start)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById(name);
        // The last of these is an hour that a change skips or shows twice in most of the zones.
        foreach (var until in new[] { new TimeOnly(8, 0), new TimeOnly(2, 0), new TimeOnly(2, 30) })
        {
            var settings = AlertSettings.Default with
            {
                Personal = ValueList.Of(new PersonalChannel("phone", new QuietHours(new TimeOnly(22, 0), until))),
            };
            // Told once and then left to the digest.
            var run = new HouseRun(At(start).ToDateTimeOffset(), settings, new Trouble("quince", "temperature-drop", "a", 0, null)) { Zone = zone, Every = _ => 10, Restarts = true }
                .LiveUntil(3 * 24 * 60);

            var days = run.Sent.Where(sent => sent.Draft.Thread == "digest").Select(sent => TimeZoneInfo.ConvertTime(sent.At, zone)).ToList();
            var first = TimeZoneInfo.ConvertTime(run.Start, zone).Date.AddDays(1);
            Assert.Equal([first, first.AddDays(1), first.AddDays(2)], days.Select(day => day.Date));
            // Never before the night is over; where the clock skipped that moment, or showed it twice, up to an hour later on the wall.
            Assert.All(days, day => Assert.InRange(TimeOnly.FromDateTime(day.DateTime) - until, TimeSpan.Zero, TimeSpan.FromMinutes(70)));
        }
    }

    private static ReceivedAt At(string text) => ReceivedAt.From(DateTimeOffset.Parse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal));
}
