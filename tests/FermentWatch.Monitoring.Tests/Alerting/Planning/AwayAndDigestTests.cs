using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting.Planning;

/// <summary>Our own downtime, clocks that are wrong, and a snooze until something happens.</summary>
public sealed class AwayAndDigestTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    [Fact]
    public void AfterSixHoursDown_OneMessageTellsWhatWasMissed()
    {
        var run = new HouseRun(
            Start,
            Settings,
            new Trouble("quince", "temperature-band", "a", 100, 200),
            new Trouble("sloe", "temperature-band", "b", 150, 220),
            new Trouble("sloe", "temperature-drop", "c", 300, null))
        { Restarts = true }.LiveUntil(60).DownUntil(420).LiveUntil(450);

        var away = Assert.Single(run.Sent, sent => sent.Draft.Title.Code == "title-away").Draft;
        Assert.Equal(new ReasonValue.Length(TimeSpan.FromMinutes(360)), away.Title.Values[0]);
        Assert.Equal(Reason.Of("away-alerts", new ReasonValue.Count(2)), away.Body[1]);
        // What still lasts is raised as ever, and nothing past is told a second time.
        Assert.Equal(["title-drop", "title-away"], run.Sent.Select(sent => sent.Draft.Title.Code));
    }

    [Fact]
    public void OddReadingsOfTheNight_ComeInTheDigestAndNeedNoAllClear()
    {
        var night = new HouseRun(Start, Settings, new Trouble("quince", "sensor-implausible", "a", 15 * 60, 26 * 60)) { Restarts = true }.LiveUntil(28 * 60);
        Assert.Equal("title-digest-one", Assert.Single(night.Sent).Draft.Title.Code);

        var day = new HouseRun(Start, Settings, new Trouble("quince", "sensor-implausible", "a", 2 * 60, 5 * 60)) { Restarts = true }.LiveUntil(8 * 60);
        Assert.Equal(["title-implausible", "title-ended"], day.Sent.Select(sent => sent.Draft.Title.Code));
    }

    [Fact]
    public void NewsForTheDigest_TakesThePlaceOfOlderNewsOfTheSame()
    {
        var run = new HouseRun(
            Start,
            Settings,
            new Trouble("quince", "temperature-drop", "a", 100, 200, Severity.Info),
            new Trouble("quince", "temperature-drop", "a", 400, null, Severity.Info)).LiveUntil(24 * 60);

        Assert.Equal("title-digest-one", Assert.Single(run.Sent).Draft.Title.Code);
    }

    [Fact]
    public void DownForTenMinutes_IsNotWorthAWord() =>
        Assert.Empty(new HouseRun(Start, Settings).LiveUntil(60).DownUntil(70).LiveUntil(120).Sent);

    [Fact]
    public void ClockThatJumpsAnHourWhileWeRun_IsNoAbsence()
    {
        var run = new HouseRun(Start, Settings).LiveUntil(60);
        run.Jump(120);
        Assert.Empty(run.LiveUntil(300).Sent);
    }

    [Fact]
    public void ClockOf1970AtBoot_IsNeitherAbsenceNorDigestAndTellsAtOnce()
    {
        var run = new HouseRun(Start, Settings, new Trouble("quince", "temperature-band", "a", 70, null)) { IsTrusted = minute => minute is < 60 or > 75 }
            .LiveUntil(59).DownUntil(61).LiveUntil(200);

        Assert.Equal("title-temperature", Assert.Single(run.Sent).Draft.Title.Code);
    }

    [Fact]
    public void ClockSetBackTwoHours_GivesTheAllClearOfWhatWasSent()
    {
        var run = new HouseRun(Start, Settings, new Trouble("quince", "temperature-band", "a", 160, 165)).LiveUntil(162);
        Assert.Single(run.Sent);
        run.Jump(40);
        run.Change(new Trouble("quince", "temperature-band", "a", 10, 41));
        run.LiveUntil(60);

        Assert.Equal(2, run.Sent.Count);
        Assert.True(run.Sent[1].Draft.Silent);
    }

    [Fact]
    public void SnoozeUntilSomethingHappens_EndsWithAnotherAlertOfTheBatchOnly()
    {
        var run = new HouseRun(
            Start,
            Settings,
            new Trouble("quince", "temperature-band", "a", 10, null),
            new Trouble("sloe", "temperature-band", "x", 60, null),
            new Trouble("quince", "temperature-band", "b", 120, null)).LiveUntil(30);
        var key = run.Alerts.Single().Key;
        run.Act(key, set => set.Act(AlertAct.SnoozeEvent, key, ReceivedAt.From(run.Now)));
        run.LiveUntil(119);
        Assert.NotNull(run.Alerts.Single(alert => alert.Key == key).Snooze);
        run.LiveUntil(130);

        var last = run.Sent[^1];
        Assert.Equal(("title-group", 121.0), (last.Draft.Title.Code, (last.At - Start).TotalMinutes));
        Assert.Contains(key, last.Draft.Alerts);
    }

    [Fact]
    public void UrgentThatNobodyTakesOn_ReachesTheSecondPersonAfterAnHourAndEndsThereToo()
    {
        var second = new PersonalChannel("second", QuietHours.Default) { WithoutRules = ValueList.Of<string>("temperature-danger", "temperature-band") };
        var settings = Settings with { Personal = ValueList.Of(second), Seconds = ValueList.Of<string>("second") };
        var troubles = new[] { new Trouble("quince", "temperature-danger", "a", 10, 200, Severity.Urgent), new Trouble("quince", "temperature-band", "a", 10, 200) };
        var left = new HouseRun(Start, settings, troubles) { Restarts = true }.LiveUntil(240);
        // An hour after the first notice, then with the repeats until somebody takes it on, then the all-clear.
        Assert.Equal([71.0, 101.0, 201.0], left.Sent.Where(sent => sent.Draft.Channel == "second").Select(sent => (sent.At - Start).TotalMinutes));

        var taken = new HouseRun(Start, settings, troubles).LiveUntil(40);
        var key = taken.Alerts.Single(alert => alert.Rule == "temperature-danger").Key;
        taken.Act(key, set => set.Act(AlertAct.OnIt, key, ReceivedAt.From(taken.Now)));
        Assert.DoesNotContain(taken.LiveUntil(240).Sent, sent => sent.Draft.Channel == "second");
    }

    [Theory]
    [InlineData(0, 2)]
    [InlineData(5, 0)]
    public void UrgentWhileTheMakerIsAway_GoesToTheHelperToo(int fromDay, int expected)
    {
        var helper = new PersonalChannel("helper", null) { OnlyBatches = ValueList.Of<BatchId>() };
        var from = ReceivedAt.From(Start.AddDays(fromDay));
        var settings = Settings with { Personal = ValueList.Of(helper), Away = new AwayMode(from, from + TimeSpan.FromDays(3), ValueList.Of<string>("helper")) };
        var run = new HouseRun(
            Start,
            settings,
            new Trouble("quince", "temperature-danger", "a", 10, 35, Severity.Urgent),
            new Trouble("quince", "temperature-band", "a", 10, 35)).LiveUntil(60);

        Assert.Equal(expected, run.Sent.Count(sent => sent.Draft.Channel == "helper"));
        // The helper gets plain steps instead of the maker's remedy, and the plain all-clear.
        Assert.Equal(expected > 0, run.Sent.Any(sent => sent.Draft is { Channel: "helper", Silent: false } && sent.Draft.Body[^1].Code.StartsWith("helper-", StringComparison.Ordinal)));
        Assert.DoesNotContain(run.Sent, sent => (sent.Draft.Channel == "relay" || sent.Draft.Silent) && sent.Draft.Body.Any(one => one.Code.StartsWith("helper-", StringComparison.Ordinal)));
        Assert.Contains(run.Sent, sent => sent.Draft is { Channel: "relay", Severity: Severity.Urgent });
    }

    [Theory]
    [InlineData("Europe/Berlin", "2026-03-28T22:00:00Z", "2026-03-29T06:00:00Z")]
    [InlineData("Europe/Berlin", "2026-10-24T21:00:00Z", "2026-10-25T07:00:00Z")]
    [InlineData("Australia/Lord_Howe", "2026-10-03T12:00:00Z", "2026-10-03T21:00:00Z")]
    [InlineData("Pacific/Auckland", "2026-04-04T20:00:00Z", "2026-04-05T20:00:00Z")]
    [InlineData("UTC", "2026-06-01T08:00:00Z", "2026-06-02T08:00:00Z")]
    public void SnoozeUntilMorning_EndsAtEightOnTheWallClock(string zone, string at, string until)
    {
        var from = ReceivedAt.From(DateTimeOffset.Parse(at, System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(
            DateTimeOffset.Parse(until, System.Globalization.CultureInfo.InvariantCulture),
            (from + AlertSnooze.UntilMorning(from, TimeZoneInfo.FindSystemTimeZoneById(zone))).ToDateTimeOffset());
    }
}
