using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class AlertsTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };
    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);

    [Fact]
    public void ClearedWithinTheGroupWait_IsTakenOutOfTheOutboxAndNeverTold()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(60, Episode(30, 60, null)), Settings, Pass(60));
        var draft = Assert.Single(NoticePlan.For(View(60), raised, Settings, Pass(60)).Drafts);
        var later = Pass(60) with { Now = ReceivedAt.From(Start.AddMinutes(60).AddSeconds(30)) };
        var cleared = Alerts.Step(raised.Now, View(60, Episode(30, 60, 60)), Settings, later);
        var plan = NoticePlan.For(View(60), cleared, Settings, later);

        Assert.Empty(plan.Drafts);
        Assert.Contains(draft.Key, plan.Canceled);
    }

    [Fact]
    public void ClearedAfterTheGroupWait_OvertakesAWaitingNoticeWithASilentAllClearInItsThread()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(60, Episode(30, 60, null)), Settings, Pass(60));
        var first = Assert.Single(NoticePlan.For(View(60), raised, Settings, Pass(60)).Drafts);
        var cleared = Alerts.Step(raised.Now, View(180, Episode(30, 60, 170)), Settings, Pass(180));
        var plan = NoticePlan.For(View(180), cleared, Settings, Pass(180));
        var second = Assert.Single(plan.Drafts);

        Assert.Equal((first.Thread, true, Severity.Info), (second.Thread, second.Silent, second.Severity));
        Assert.NotEqual(first.Key, second.Key);
        Assert.Contains(first.Key, plan.Canceled);
        Assert.Equal(Pass(60).Now + Minute, first.NextAttemptAt);
    }

    [Fact]
    public void ClearedThenLastingAfterLateSamples_IsRaisedAgainInItsThread()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(60, Episode(30, 60, null)), Settings, Pass(60));
        var cleared = Alerts.Step(raised.Now, View(180, Episode(30, 60, 170)), Settings, Pass(180));
        var again = Alerts.Step(cleared.Now, View(200, Episode(30, 60, null)), Settings, Pass(200));

        var transition = Assert.Single(again.Transitions);
        Assert.Equal((TransitionKind.Raised, 3), (transition.Kind, transition.Alert.StateNumber));
        Assert.Equal(raised.Transitions[0].Alert.Key, transition.Alert.Key);
    }

    [Fact]
    public void SeveralAlertsOfThePast_AreOneSummary()
    {
        var result = Alerts.Step(AlertSet.Empty, View(900, Episode(30, 60, 120), Episode(300, 330, 400), Episode(500, 530, 600)), Settings, Pass(720));
        var draft = Assert.Single(NoticePlan.For(View(900), result, Settings, Pass(720)).Drafts);

        Assert.Equal(3, result.Transitions.Count(transition => transition.Kind is TransitionKind.FoundInPast));
        Assert.Equal(("title-past", true), (draft.Title.Code, draft.Silent));
        Assert.Empty(Alerts.Step(result.Now, View(901, Episode(30, 60, 120), Episode(300, 330, 400), Episode(500, 530, 600)), Settings, Pass(721)).Transitions);
    }

    [Fact]
    public void SplitByLateSamples_TellsNothingNew()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(300, Episode(30, 60, null)), Settings, Pass(300));
        var split = Alerts.Step(raised.Now, View(310, Episode(30, 60, 130), Episode(200, 230, null)), Settings, Pass(310));

        var next = Alerts.Step(split.Now, View(311, Episode(30, 60, 130), Episode(200, 230, null)), Settings, Pass(311));

        Assert.Empty(split.Transitions);
        Assert.Empty(next.Transitions);
        Assert.Single(next.Now.Alerts);
    }

    [Fact]
    public void MergedByLateSamples_EndsTheOneWithoutItsOwnEpisodeSilently()
    {
        var first = Alerts.Step(AlertSet.Empty, View(100, Episode(30, 60, null)), Settings, Pass(100));
        var cleared = Alerts.Step(first.Now, View(200, Episode(30, 60, 190)), Settings, Pass(200));
        var second = Alerts.Step(cleared.Now, View(300, Episode(30, 60, 190), Episode(250, 280, null)), Settings, Pass(300));
        var merged = Alerts.Step(second.Now, View(310, Episode(30, 60, null)), Settings, Pass(310));

        Assert.Empty(merged.Transitions);
        Assert.Equal([AlertStanding.Cleared, AlertStanding.Raised], merged.Now.Alerts.Select(alert => alert.Standing));
    }

    [Fact]
    public void LastingEpisodeWhoseEvidenceIsOld_IsNotRaisedAsNew()
    {
        var monthsLater = View(60 * 24 * 60, Episode(30, 60, null));

        Assert.Empty(Alerts.Step(AlertSet.Empty, monthsLater, Settings, Pass(60 * 24 * 60)).Transitions);
    }

    [Fact]
    public void Withdrawn_IsToldAloudAndHeldAtNight()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(60, Episode(30, 60, null)), Settings, Pass(60));
        var night = Alerts.Step(raised.Now, View(15 * 60), Settings, Pass(15 * 60));
        var morning = Alerts.Step(night.Now, View(24 * 60), Settings, Pass(24 * 60));
        var draft = Assert.Single(NoticePlan.For(View(24 * 60), morning, Settings, Pass(24 * 60)).Drafts);

        Assert.Empty(night.Transitions);
        Assert.Equal(("title-temperature-withdrawn", false, Severity.Warning), (draft.Title.Code, draft.Silent, draft.Severity));
    }

    [Fact]
    public void ClockThatMayBeWrong_DoesNotHoldANoticeForTheNight()
    {
        var night = Pass(15 * 60);
        var view = View(15 * 60, Episode(14 * 60, (15 * 60) - 10, null));

        Assert.Empty(Alerts.Step(AlertSet.Empty, view, Settings, night).Transitions);
        Assert.Single(Alerts.Step(AlertSet.Empty, view, Settings, night with { ClockTrusted = false }).Transitions);
    }

    [Fact]
    public void PassThatOnlyMovesTimers_NeedNotBeStoredForAWhile()
    {
        var first = Alerts.Step(AlertSet.Empty, View(0, Episode(-60, -30, null)), Settings, Pass(0));
        var set = first.Now;
        var stored = Enumerable.Range(1, 30).Count(minute =>
        {
            var result = Alerts.Step(set, View(minute, Episode(-60, -30, null)), Settings, Pass(minute) with { Listening = Minute });
            set = result.Now;
            return result.MustStore;
        });

        Assert.True(first.MustStore);
        Assert.Equal(2, stored);
    }

    [Fact]
    public void LongLife_KeepsTheSetSmallAndTellsNothingTwice()
    {
        var set = AlertSet.Empty;
        var episodes = new List<AlertEpisode>();
        for (var day = 0; day < 300; day++)
        {
            episodes.Add(Episode(day * 1440, (day * 1440) + 30, (day * 1440) + 120));
            var result = Alerts.Step(set, View((day * 1440) + 180, [.. episodes]), Settings, Pass((day * 1440) + 180));
            Assert.Single(result.Transitions);
            set = AlertJson.ReadSet(AlertJson.Write(result.Now));
        }

        Assert.InRange(set.Alerts.Count, 1, 101);
        Assert.InRange(AlertJson.Write(set).Length, 1, 100_000);
    }

    [Fact]
    public void StoredSetOfANewerVersion_IsRefusedByName()
    {
        var fault = Assert.Throws<FormatException>(() => AlertJson.ReadSet(AlertJson.Write(AlertSet.Empty with { Version = 2 })));

        Assert.Contains("version 2", fault.Message, StringComparison.Ordinal);
        Assert.Throws<FormatException>(() => AlertJson.ReadSet("{\"Alerts\":"));
    }

    [Fact]
    public void DraftThroughJson_IsTheSame()
    {
        var raised = Alerts.Step(AlertSet.Empty, View(60, Episode(30, 60, null)), Settings, Pass(60));
        var draft = NoticePlan.For(View(60), raised, Settings, Pass(60)).Drafts[0];

        Assert.Equal(draft, AlertJson.ReadDraft(AlertJson.Write(draft)));
        Assert.Equal(raised.Now, AlertJson.ReadSet(AlertJson.Write(raised.Now)));
    }

    private static Pass Pass(int minute) => new(ReceivedAt.From(Start.AddMinutes(minute)), TimeSpan.Zero, TimeZoneInfo.Utc);

    private static EventTime At(int minute) => EventTime.From(Start.AddMinutes(minute));

    private static AlertEpisode Episode(int began, int raised, int? cleared)
    {
        var probe = new ReasonValue.Name("probe");
        var because = Reason.Of(
            "temperature-above-band", probe, new ReasonValue.Degrees(27.8), new ReasonValue.Degrees(25), new ReasonValue.Moment(At(began)), new ReasonValue.Degrees(28.1));
        return new AlertEpisode(
            "temperature-band", "probe", Severity.Warning, At(began), At(raised), cleared is { } end ? At(end) : null, because)
        {
            EvidenceAt = At(Math.Max(raised, cleared ?? raised)),
        };
    }

    private static BatchView View(int minute, params AlertEpisode[] episodes) =>
        BatchViews.Of("quince-mead", "Quince mead", band: null, [], [], [], Settings, At(minute)) with { Episodes = ValueList.Of<AlertEpisode>(episodes) };
}
