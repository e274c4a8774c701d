using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting.Planning;

/// <summary>What one listener gets when much happens at once. The figures are common practice without a source.</summary>
public sealed class NoticePlanningTests
{
    private const int Day = 24 * 60;

    // 09:00 on a day without a clock change.
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    [Fact]
    public void TwoAlertsOfABatchWithinAMinute_AreOneNotice()
    {
        var run = Live(30, new("quince", "temperature-band", "a", 10, null), new("quince", "temperature-drop", "b", 10, null));

        var sent = Assert.Single(run.Sent);
        Assert.Equal(("title-group", 11.0), (sent.Draft.Title.Code, (sent.At - Start).TotalMinutes));
        Assert.Equal(2, sent.Draft.Alerts.Count);
    }

    [Fact]
    public void SecondAlertOfABatchMinutesLater_WaitsUntilTenMinutesAfterTheFirst()
    {
        var run = Live(60, new("quince", "temperature-band", "a", 10, null), new("quince", "temperature-band", "b", 14, null), new("sloe", "temperature-band", "c", 14, null));

        Assert.Equal([11.0, 15.0, 21.0], run.Sent.Select(sent => (sent.At - Start).TotalMinutes));
        Assert.Equal(["quince", "sloe", "quince"], run.Sent.Select(sent => sent.Draft.Batch.Value));
    }

    [Fact]
    public void SixAlertsOfSixBatches_AreOneSummary()
    {
        var run = Live(30, [.. Enumerable.Range(0, 6).Select(i => new Trouble("batch-" + i, "temperature-band", "a", 10, null))]);

        var sent = Assert.Single(run.Sent);
        Assert.Equal(("title-flood", 6, true), (sent.Draft.Title.Code, sent.Draft.Alerts.Count, sent.Draft.IsOfSeveralBatches));
        Assert.Equal(new ReasonValue.Count(3), sent.Draft.Body.Single(sentence => sentence.Code == "many-more").Values[0]);
        Assert.Contains(sent.Draft.Body, sentence => sentence.Code == "ventilate-first");
    }

    [Fact]
    public void FiveAlertsOfFiveBatches_AreNoFlood() =>
        Assert.DoesNotContain(Live(30, [.. Enumerable.Range(0, 5).Select(i => new Trouble("batch-" + i, "temperature-band", "a", 10, null))]).Sent, sent => sent.Draft.Title.Code == "title-flood");

    [Fact]
    public void UrgentOne_IsInNoGroupNoFloodAndUnderNoCap()
    {
        var run = Live(Day, [
            .. Enumerable.Range(0, 6).Select(i => new Trouble("quince", "temperature-band", "s" + i, 10 + (i * 60), null)),
            .. Enumerable.Range(0, 4).Select(i => new Trouble("quince", "temperature-danger", "u" + i, 400, 420, Severity.Urgent)),
        ]);

        var urgent = run.Sent.Where(sent => sent.Draft.Severity is Severity.Urgent).ToList();
        Assert.Equal(4, urgent.Count);
        Assert.All(urgent, sent => Assert.Equal((401.0, 1), ((sent.At - Start).TotalMinutes, sent.Draft.Alerts.Count)));
    }

    [Fact]
    public void FourthNoticeOfADay_IsInTheDigestOfTheNextMorning()
    {
        var run = Live(Day + 60, [.. Enumerable.Range(0, 5).Select(i => new Trouble("quince", "temperature-drop", "s" + i, 10 + (i * 60), null))]);

        var digest = Assert.Single(run.Sent, sent => sent.Draft.Title.Code == "title-digest");
        Assert.Equal(3, run.Sent.Count - 1);
        Assert.Equal(Start.Date.AddDays(1).AddHours(8), digest.At.DateTime);
        // Those that were told are told once only by this rule, so they live in the digest too.
        Assert.Equal(5, digest.Draft.Alerts.Distinct().Count());
    }

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void ListenersOwnNumberADay_TakesThePlaceOfTheHouses(int aDay)
    {
        var settings = Settings with { Channels = ValueList.Of<string>(), Personal = ValueList.Of(new PersonalChannel("person-1-relay", QuietHours: null) { ADay = aDay }) };
        var run = new HouseRun(Start, settings, [.. Enumerable.Range(0, 6).Select(i => new Trouble("quince", "temperature-drop", "s" + i, 10 + (i * 60), null))]).LiveUntil(Day - 60);

        Assert.Equal(aDay, run.Sent.Count(sent => sent.Draft.Severity is Severity.Warning && sent.Draft.Title.Code != "title-digest"));
    }

    [Fact]
    public void RepeatsUsedUp_LivesInEachDaysDigestUntilAcknowledged()
    {
        var run = new HouseRun(Start, Settings, new Trouble("quince", "temperature-band", "a", 10, null)).LiveUntil(5 * Day);
        var days = Digests(run).ToList();
        run.Act(run.Alerts.Single().Key, set => set.Act(AlertAct.OnIt, run.Alerts.Single().Key, ReceivedAt.From(run.Now)));
        run.LiveUntil(8 * Day);

        // Raised, and repeated three times after 12 h each: the last one on the evening of the second day.
        Assert.Equal(4, run.Sent.Count(sent => sent.Draft.Title.Code.StartsWith("title-temperature", StringComparison.Ordinal)));
        Assert.Equal([8, 8, 8, 8], days.Select(at => at.Hour));
        Assert.Equal(days, Digests(run));
    }

    [Fact]
    public void UrgentRepeatsUsedUp_GoesOnUntilAcknowledged()
    {
        var run = new HouseRun(Start, Settings, new Trouble("quince", "temperature-drop", "a", 10, null, Severity.Urgent)) { Every = _ => 5 }.LiveUntil(4 * Day);

        Assert.Equal(4, run.Sent.Count(sent => sent.Draft.Title.Code == "title-drop"));
        run.Act(run.Alerts.Single().Key, set => set.Act(AlertAct.OnIt, run.Alerts.Single().Key, ReceivedAt.From(run.Now)));
        run.LiveUntil(6 * Day);
        Assert.Equal(4, run.Sent.Count);
    }

    [Fact]
    public void RaisedThreeTimesInADay_SaysSoInTheThird()
    {
        var run = Live(Day, [.. Enumerable.Range(0, 3).Select(i => new Trouble("quince", "temperature-band", "a", 10 + (i * 100), 60 + (i * 100)))]);

        var raised = run.Sent.Where(sent => sent.Draft.Title.Code == "title-temperature").ToList();
        Assert.Equal([false, false, true], raised.Select(sent => sent.Draft.Body.Any(sentence => sentence.Code == "chattering")));
    }

    [Fact]
    public void ClearedWhileItsGroupWaits_IsCountedAndTheRestIsTold()
    {
        var run = new HouseRun(
            Start,
            Settings,
            new Trouble("quince", "temperature-band", "a", 10, null),
            new Trouble("quince", "temperature-band", "b", 12, 17),
            new Trouble("quince", "temperature-band", "c", 13, null))
        { Restarts = true }.LiveUntil(40);

        Assert.Equal([11.0, 21.0], run.Sent.Select(sent => (sent.At - Start).TotalMinutes));
        Assert.EndsWith("/c/3", Assert.Single(run.Sent[1].Draft.Alerts), StringComparison.Ordinal);
        Assert.Equal(1, run.Ledger.Of("relay").Fleeting);
    }

    [Fact]
    public void RepeatedInAGroupAndEnded_IsTakenBackWhereverItWasShown()
    {
        // Both repeat after 12 h, which is held for the morning and told together.
        var run = Live(2 * Day, new("quince", "temperature-band", "a", 120, Day + 60), new("quince", "temperature-band", "b", 140, Day + 80));

        Assert.Contains(run.Sent, sent => sent.Draft.Title.Code == "title-group");
        var shown = run.Sent.GroupBy(sent => sent.Draft.Thread).ToDictionary(thread => thread.Key, thread => thread.Last().Draft.Kind);
        Assert.Equal(3, shown.Count);
        Assert.All(shown, thread => Assert.Equal(TransitionKind.Cleared, thread.Value));
    }

    [Fact]
    public void ActWhileTheNoticeWaits_TakesItOut()
    {
        var run = new HouseRun(Start, Settings, new Trouble("quince", "temperature-band", "a", 10, null), new Trouble("quince", "temperature-band", "b", 12, null)).LiveUntil(14);
        var second = run.Alerts.Single(alert => alert.Subject == "b").Key;
        run.Act(second, set => set.Act(AlertAct.OnIt, second, ReceivedAt.From(run.Now)));
        run.LiveUntil(60);

        Assert.Single(run.Sent);
        Assert.Empty(run.Waiting);
    }

    [Fact]
    public void RiseInSeverityOfAnAcknowledgedAlert_IsToldAtOnce()
    {
        var was = new Trouble("quince", "temperature-band", "a", 10, null);
        var run = new HouseRun(Start, Settings, was).LiveUntil(30);
        var key = run.Alerts.Single().Key;
        run.Act(key, set => set.Act(AlertAct.OnIt, key, ReceivedAt.From(run.Now)));
        run.LiveUntil(120).Change(was with { Severity = Severity.Urgent });
        run.LiveUntil(140);

        Assert.Equal([11.0, 122.0], run.Sent.Select(sent => (sent.At - Start).TotalMinutes));
        Assert.Equal(Severity.Urgent, run.Sent[1].Draft.Severity);
    }

    private static IEnumerable<DateTimeOffset> Digests(HouseRun run) =>
        run.Sent.Where(sent => sent.Draft.Title.Code.StartsWith("title-digest", StringComparison.Ordinal)).Select(sent => sent.At);

    private static HouseRun Live(int until, params Trouble[] troubles) => new HouseRun(Start, Settings, troubles).LiveUntil(until);
}
