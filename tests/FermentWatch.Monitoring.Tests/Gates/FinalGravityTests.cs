using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>The two ways in which a final gravity is shown. Waits and errors: common practice, no source.</summary>
public sealed class FinalGravityTests
{
    // Both err by 2 points: together by the root of 8, 2.83 points.
    [Theory]
    [InlineData(0.9950, ConditionState.Met, "gate-ready-hand-agrees")]
    [InlineData(0.9978, ConditionState.Met, "gate-ready-hand-agrees")]
    [InlineData(0.9980, ConditionState.NotMet, "gate-ready-hand-disagrees")]
    [InlineData(0.9922, ConditionState.Met, "gate-ready-hand-agrees")]
    [InlineData(0.9920, ConditionState.NotMet, "gate-ready-hand-disagrees")]
    public void ReadyWithOneHandReading_IsHeldAgainstTheSensor(double hand, ConditionState state, string code)
    {
        var story = Ready();
        story.Read(21, hand);
        var condition = story.Of(21.5, GateKind.Stabilize, "final-gravity");
        Assert.Equal((state, code), (condition.State, condition.Because.Code));
        var values = condition.Because.Values.OfType<ReasonValue.Gravity>().ToList();
        Assert.Equal([hand, 0.995], values.Take(2).Select(value => Math.Round(value.Ratio, 6)));
        Assert.Equal(Math.Sqrt(8) / 1000, values[3].Ratio, 1e-9);
    }

    [Fact]
    public void AHandReadingThatMovedTheSensor_IsHeldAgainstWhatTheSensorShowedBefore()
    {
        var course = Tests.Batches.Course.Of(480, 0.5, hours => Tests.Batches.Course.Smooth(hours) + 5);
        course.Tell(470, JournalKind.MeasuredByHand, Tests.Batches.Course.Smooth(470));
        var view = course.View(476);
        var facts = new GateFacts(view, GateSettings.Default) { ReadySince = Tests.Batches.SimulatedBatch.At(460) };
        Assert.InRange(view.LatestGravity!.Value.Value.Points - Tests.Batches.Course.Smooth(476), -1.2, 1.2);
        var condition = GateKeeper.Of(facts).Single(gate => gate.Kind == GateKind.Stabilize).Conditions.Single(one => one.Code == "final-gravity");
        Assert.Equal("gate-ready-hand-disagrees", condition.Because.Code);
    }

    [Fact]
    public void TighterErrors_MakeTheSameReadingDisagree()
    {
        var story = Ready();
        story.Read(21, 0.9975);
        story.Settings = GateSettings.Default with { HydrometerErrorPoints = 1, SensorErrorPoints = 1 };
        Assert.Equal("gate-ready-hand-disagrees", story.Of(21.5, GateKind.Stabilize, "final-gravity").Because.Code);
    }

    [Fact]
    public void ReadyAlone_WaitsForTheHandUnlessThatIsTurnedOff()
    {
        var story = Ready();
        story.Read(2, 1.080);
        Assert.Equal((ConditionState.Unknown, "gate-ready-hand-missing"), Of(story));
        story.Settings = GateSettings.Default with { HandReadings = 0 };
        Assert.Equal((ConditionState.Met, "gate-ready-hand-off"), Of(story));
        // Turned off, a hand reading that disagrees still counts.
        story.Read(21, 1.004);
        Assert.Equal((ConditionState.NotMet, "gate-ready-hand-disagrees"), Of(story));
    }

    [Fact]
    public void TwoAskedFor_OnlyTheHandSeriesCounts()
    {
        var story = Ready();
        story.Settings = GateSettings.Default with { HandReadings = 2 };
        story.Read(21, 0.995);
        Assert.Equal((ConditionState.NotMet, "gate-hand-again"), Of(story));
        story.Read(28, 0.995);
        Assert.Equal(ConditionState.Met, story.Of(28.5, GateKind.Stabilize, "final-gravity").State);
    }

    [Fact]
    public void SensorGoneSinceReady_CannotBeCompared()
    {
        var story = Ready();
        story.Sensor.RemoveAll(one => one.Day > 20);
        story.Read(21.4, 0.995);
        Assert.Equal((ConditionState.Unknown, "gate-ready-sensor-missing"), Of(story));
    }

    [Theory]
    [InlineData(AlertStanding.Raised, false, true)]
    [InlineData(AlertStanding.Raised, true, false)]
    [InlineData(AlertStanding.Cleared, false, false)]
    public void ReadyOfTheAlertSet_CountsWhileItStandsUncontradicted(AlertStanding standing, bool isDisputed, bool counts)
    {
        var at = GateStory.Day(20);
        var alert = new TrackedAlert(
            "k", "ready-to-stabilize", "damson", Severity.Action, at, at, ClearedAt: null, standing, Told: null, ToldAt: null, TimeSpan.Zero, StateNumber: 1, Repeats: 0, AcknowledgedAt: null, "k", Reason.Of("ready-rests"))
        {
            DisputedAt = isDisputed ? new ReceivedAt(at.UnixMicroseconds) : null,
        };
        var facts = GateFacts.Of(new GateStory().View(21), new AlertSet { Alerts = ValueList.Of(alert) }, GateSettings.Default);
        Assert.Equal(counts ? at : null, facts.ReadySince);
    }

    [Fact]
    public void NeitherSensorNorHand_SaysSo()
    {
        Assert.Equal((ConditionState.Unknown, "gate-final-neither"), Of(new GateStory()));
    }

    [Theory]
    [InlineData(null, "gate-hand-agree-cold-unknown", ConditionState.Met)]
    [InlineData(18.0, "gate-hand-agree", ConditionState.Met)]
    [InlineData(13.0, "gate-hand-again", ConditionState.NotMet)]
    public void Temperature_LengthensTheWaitInTheColdAndIsShownWhereUnknown(double? celsius, string code, ConditionState state)
    {
        var story = new GateStory();
        story.Warmth.AddRange(celsius is { } known ? [(20, known), (24, known), (28, known)] : []);
        story.Read(20, 0.995);
        story.Read(27, 0.995);
        var condition = story.Of(28.5, GateKind.Stabilize, "final-gravity");
        Assert.Equal((state, code), (condition.State, condition.Because.Code));
    }

    private static (ConditionState, string) Of(GateStory story) =>
        story.Of(21.5, GateKind.Stabilize, "final-gravity") is var condition ? (condition.State, condition.Because.Code) : default;

    private static GateStory Ready()
    {
        var story = new GateStory { Ready = 20.5 };
        story.Sensor.AddRange(Enumerable.Range(0, 60).Select(i => (12 + (i / 4.0), 0.995)));
        return story;
    }
}
