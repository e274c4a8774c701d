using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>What people say about an alert, and what is told afterwards. One episode that lasts, a pass every ten minutes.</summary>
public sealed class AlertActsTests
{
    private const string Rule = "temperature-band";
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan Tick = TimeSpan.FromMinutes(10);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay"), QuietHours = null, Only = ValueList.Of<string>(Rule) };

    [Property(MaxTest = 300)]
    public void RiseInSeverity_IsToldInThePassThatSeesItHoweverLongTheSnooze(int seed)
    {
        var random = new Random(seed);
        var before = (Severity)random.Next((int)Severity.Action, (int)Severity.Urgent);
        var after = (Severity)random.Next((int)before + 1, (int)Severity.Urgent + 1);
        var snoozedAt = random.Next(1, 40);
        var risesAt = random.Next(snoozedAt + 1, 200);
        var life = new Life { SeverityAt = tick => tick < risesAt ? before : after };
        life.Pass(snoozedAt);
        life.Set = life.Set.Snooze(life.Key, life.Now, (Tick * (risesAt - snoozedAt + 1)) + TimeSpan.FromMinutes(random.Next(20_000)));
        life.Pass(risesAt - life.Ticks);
        life.Told.Clear();

        life.Pass(1);

        var told = Assert.Single(life.Told);
        Assert.Equal((TransitionKind.Raised, after), (told.Kind, told.Alert.Severity));
        Assert.Null(life.Set.Alerts[0].Snooze);
    }

    [Property(MaxTest = 300)]
    public void SnoozedAlert_IsNotToldUntilTheSnoozeEndsAndThenOnce(int seed)
    {
        var random = new Random(seed);
        var severity = (Severity)random.Next((int)Severity.Action, (int)Severity.Urgent + 1);
        var ticks = random.Next(1, 144);
        var life = new Life { SeverityAt = _ => severity };
        life.Pass(random.Next(1, 40));
        life.Set = life.Set.Snooze(life.Key, life.Now, Tick * ticks);
        life.Told.Clear();

        life.Pass(ticks - 1);
        Assert.Empty(life.Told);

        life.Pass(1);
        Assert.Equal(TransitionKind.Repeated, Assert.Single(life.Told).Kind);
    }

    [Fact]
    public void AlertThatWasNeverTold_IsRaisedWhenItsSnoozeEnds()
    {
        var life = new Life { IsWorking = true };
        life.Pass(1);
        Assert.Empty(life.Told);
        life.Set = life.Set.Act(AlertAct.Snooze, life.Key, life.Now);
        life.IsWorking = false;
        life.Pass(23);
        Assert.Empty(life.Told);
        life.Pass(1);
        Assert.Equal(TransitionKind.Raised, Assert.Single(life.Told).Kind);
    }

    [Fact]
    public void SnoozedAlertThatEnds_GivesItsAllClearAndIsToldWhenItComesBack()
    {
        var life = new Life { EndsAt = tick => tick is >= 6 and < 9 };
        life.Pass(3);
        life.Set = life.Set.Act(AlertAct.Snooze, life.Key, life.Now);
        life.Told.Clear();
        life.Pass(12);
        Assert.Equal([TransitionKind.Cleared, TransitionKind.Raised], life.Told.Select(told => told.Kind));
    }

    [Theory]
    [InlineData(AlertAct.OnIt, false)]
    [InlineData(AlertAct.Wrong, true)]
    public void AlertThatSomebodyIsOnOrCallsWrong_IsNotRepeated(AlertAct act, bool isDisputed)
    {
        var left = new Life();
        left.Pass(400);
        Assert.Contains(left.Told, told => told.Kind == TransitionKind.Repeated);

        var life = new Life();
        life.Pass(3);
        var at = life.Now;
        life.Set = AlertJson.ReadSet(AlertJson.Write(life.Set.Act(act, life.Key, at)));
        life.Told.Clear();
        life.Pass(400);
        Assert.Empty(life.Told);
        Assert.Equal((at, isDisputed ? at : (ReceivedAt?)null), (life.Set.Alerts[0].AcknowledgedAt, life.Set.Alerts[0].DisputedAt));
    }

    [Theory]
    [InlineData(Severity.Urgent, 24)]
    [InlineData(Severity.Warning, 7 * 24)]
    public void SnoozeForAMonth_IsCutToWhatTheSeverityAllows(Severity severity, int hours)
    {
        var at = ReceivedAt.From(Start);
        Assert.Equal(at + TimeSpan.FromHours(hours), AlertSnooze.Begin(at, TimeSpan.FromDays(30), severity).Until);
        Assert.Throws<ArgumentOutOfRangeException>(() => AlertSnooze.Begin(at, TimeSpan.Zero, severity));
    }

    [Fact]
    public void ClockSetBackByYears_EndsTheSnooze()
    {
        var snooze = AlertSnooze.Begin(ReceivedAt.From(Start), AlertSnooze.Usual, Severity.Warning);
        Assert.True(snooze.Quiets(Severity.Warning, ReceivedAt.From(Start.AddSeconds(-5))));
        Assert.False(snooze.Quiets(Severity.Warning, ReceivedAt.From(Start.AddYears(-2))));
    }

    [Fact]
    public void ActOnAnUnknownOrEndedAlert_ChangesNothing()
    {
        var life = new Life { EndsAt = tick => tick >= 3 };
        life.Pass(6);
        foreach (var act in Enum.GetValues<AlertAct>())
        {
            Assert.Equal(life.Set, life.Set.Act(act, life.Key, life.Now));
            Assert.Equal(life.Set, life.Set.Act(act, "sloe/no-such/alert/9", life.Now));
        }
    }

    [Fact]
    public void ActWrittenToTheDiskMeanwhile_IsTakenOverWithTheTimersInMemory()
    {
        var life = new Life();
        life.Pass(3);
        var disk = life.Set.Act(AlertAct.Snooze, life.Key, life.Now);
        life.Pass(1);
        var merged = life.Set.WithActsOf(disk);
        Assert.Equal(disk.Alerts[0].Snooze, merged.Alerts[0].Snooze);
        Assert.Equal(life.Set.Listened, merged.Listened);
    }

    /// <summary>A batch whose one sensor is outside its band.</summary>
    private sealed class Life
    {
        private readonly EventTime _began = EventTime.From(Start);

        public AlertSet Set { get; set; } = AlertSet.Empty;

        public List<AlertTransition> Told { get; } = [];

        public Func<int, Severity> SeverityAt { get; init; } = _ => Severity.Warning;

        public Func<int, bool> EndsAt { get; init; } = _ => false;

        public bool IsWorking { get; set; }

        public int Ticks { get; private set; }

        public string Key => Set.Alerts[0].Key;

        public ReceivedAt Now => ReceivedAt.From(Start + (Tick * Ticks));

        public void Pass(int count)
        {
            for (; count > 0; count--)
            {
                Ticks++;
                var now = EventTime.From(Now.ToDateTimeOffset());
                // Late samples may take an end back: the same episode then lasts again.
                var episode = new AlertEpisode(Rule, "float", SeverityAt(Ticks - 1), _began, _began, EndsAt(Ticks - 1) ? now : null, Reason.Of("any")) { EvidenceAt = now };
                var view = BatchViews.Of("sloe", "Sloe wine", null, [], [], [], Settings, now) with
                {
                    Episodes = ValueList.Of(episode),
                    WorkingUntil = IsWorking ? now + Tick : null,
                };
                var result = Alerts.Step(Set, view, Settings, new Pass(Now, Tick, TimeZoneInfo.Utc));
                Told.AddRange(result.Transitions);
                Set = result.Now;
            }
        }
    }
}
