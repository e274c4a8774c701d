using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting.Planning;

/// <summary>What will be due, for whoever goes away; and whether alerts are worth listening to.</summary>
public sealed class ForesightTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void FinedTwoDaysAgo_IsDueWhenItsWaitIsOverAndNothingBefore()
    {
        var wait = AlertSettings.Default.Waiting.Fining;
        var fined = EventTime.From(Start.AddDays(-2));
        var view = View() with
        {
            Stage = new StageSpan(BatchStage.Aging, fined, null),
            Journal = ValueList.Of(new JournalEntry(1, JournalKind.Fined, fined, "", null, null, false)),
        };

        var ahead = Foresight.Of([(view, AlertSet.Empty)], AlertSettings.Default with { Only = ValueList.Of<string>("waiting-over") }, ReceivedAt.From(Start), TimeZoneInfo.Utc);

        var due = Assert.Single(ahead.Due);
        Assert.Equal((fined + wait, "title-waiting-fining"), (due.At, due.What.Code));
        Assert.Empty(ahead.Unknown);
    }

    [Fact]
    public void FermentWithoutAnyGravity_IsNamedAsUnknown() =>
        Assert.Equal("ahead-no-gravity", Assert.Single(Foresight.Of([(View(), AlertSet.Empty)], AlertSettings.Default, ReceivedAt.From(Start), TimeZoneInfo.Utc).Unknown).What.Code);

    [Fact]
    public void WeeksOfABatch_CountThoseWithoutANoticeAndLeaveTheBegunOneOut()
    {
        var now = ReceivedAt.From(Start.AddDays(23));
        var quince = new BatchId("quince");
        LoggedNotice[] log =
        [
            .. Enumerable.Range(0, 4).Select(i => new LoggedNotice(quince, "relay", ReceivedAt.From(Start.AddDays(22 - i)), true)),
            new(quince, "relay", ReceivedAt.From(Start.AddDays(21)), false),
            new(quince, "mail", ReceivedAt.From(Start.AddDays(5)), true),
        ];

        var health = AlertHealth.Of([(quince, EventTime.From(Start), AlertSet.Empty)], NoticeLedger.Empty, log, now);

        // Three whole weeks; the channel that sent most is counted, silent and urgent ones are not.
        Assert.Equal([0, 0, 4], health.BatchWeeks);
        Assert.Equal(0.0, health.Median);
        Assert.Equal(4, health.P95);
    }

    [Fact]
    public void AlertThatComesAndGoesAndIsCalledWrong_IsInTheRecordOfItsRule()
    {
        var run = new HouseRun(
            Start,
            AlertSettings.Default with { Channels = ValueList.Of<string>("relay") },
            [.. Enumerable.Range(0, 3).Select(i => new Trouble("quince", "temperature-band", "a", 10 + (i * 100), i < 2 ? 60 + (i * 100) : null))]).LiveUntil(300);
        var key = run.Alerts.Single(alert => alert.Standing is AlertStanding.Raised).Key;
        run.Act(key, set => set.Act(AlertAct.Wrong, key, ReceivedAt.From(run.Now)));

        var health = AlertHealth.Of([.. run.Sets.Select(pair => (new BatchId(pair.Key), EventTime.From(Start), pair.Value))], run.Ledger, [], ReceivedAt.From(run.Now));

        Assert.Equal(new RuleRecord("temperature-band", 3, 1), Assert.Single(health.Rules));
        Assert.Equal(key, Assert.Single(health.Chattering).Alert.Key);
        Assert.Equal(key, Assert.Single(health.Silenced).Alert.Key);
        Assert.Null(health.Median);
    }

    private static BatchView View() => BatchViews.Of("quince", "Quince mead", null, [], [], [], AlertSettings.Default, EventTime.From(Start));
}
