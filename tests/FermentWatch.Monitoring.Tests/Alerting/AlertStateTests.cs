using FermentWatch.Monitoring.Alerting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class AlertStateTests
{
    private static readonly AlertTiming Delayed = new(new Hold(TimeSpan.FromMinutes(30), 2), new Hold(TimeSpan.FromMinutes(60), 0), TimeSpan.FromHours(12));
    private static readonly AlertTiming Immediate = new(Hold.None, Hold.None, TimeSpan.FromHours(12));

    /// <summary>The whole machine: from each phase, entered an hour before with every delay unmet, by each condition after 15 minutes.</summary>
    [Theory]
    [InlineData(AlertPhase.Quiet, Condition.Holds, AlertPhase.Watching)]
    [InlineData(AlertPhase.Quiet, Condition.Between, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Quiet, Condition.Clear, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Quiet, Condition.Unknown, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Quiet, Condition.NotApplicable, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Watching, Condition.Holds, AlertPhase.Watching)]
    [InlineData(AlertPhase.Watching, Condition.Between, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Watching, Condition.Clear, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Watching, Condition.Unknown, AlertPhase.Watching)]
    [InlineData(AlertPhase.Watching, Condition.NotApplicable, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Raised, Condition.Holds, AlertPhase.Raised)]
    [InlineData(AlertPhase.Raised, Condition.Between, AlertPhase.Raised)]
    [InlineData(AlertPhase.Raised, Condition.Clear, AlertPhase.Easing)]
    [InlineData(AlertPhase.Raised, Condition.Unknown, AlertPhase.Raised)]
    [InlineData(AlertPhase.Raised, Condition.NotApplicable, AlertPhase.Quiet)]
    [InlineData(AlertPhase.Easing, Condition.Holds, AlertPhase.Raised)]
    [InlineData(AlertPhase.Easing, Condition.Between, AlertPhase.Raised)]
    [InlineData(AlertPhase.Easing, Condition.Clear, AlertPhase.Easing)]
    [InlineData(AlertPhase.Easing, Condition.Unknown, AlertPhase.Easing)]
    [InlineData(AlertPhase.Easing, Condition.NotApplicable, AlertPhase.Quiet)]
    public void FromEachPhase_EachConditionLeadsToItsPhase(AlertPhase from, Condition condition, AlertPhase to)
    {
        var was = new AlertState(from, At(0), At(0), IsBlind: false, TimeSpan.Zero, Samples: 1);

        Assert.Equal(to, was.Next(condition, At(15), Delayed).Phase);
    }

    [Theory]
    [InlineData(AlertPhase.Quiet, Condition.Holds, AlertPhase.Raised)]
    [InlineData(AlertPhase.Raised, Condition.Clear, AlertPhase.Quiet)]
    public void WithoutDelays_ThePhaseChangesAtOnce(AlertPhase from, Condition condition, AlertPhase to)
    {
        var was = new AlertState(from, At(0), At(0), IsBlind: false, TimeSpan.Zero, Samples: 1);

        Assert.Equal(to, was.Next(condition, At(15), Immediate).Phase);
    }

    [Fact]
    public void TimeWithoutEnoughSamples_DoesNotRaise()
    {
        var timing = Delayed with { On = new Hold(TimeSpan.FromMinutes(30), 3) };

        Assert.Equal(AlertPhase.Watching, Run(timing, (0, Condition.Holds), (60, Condition.Holds)).Phase);
        Assert.Equal(AlertPhase.Raised, Run(timing, (0, Condition.Holds), (60, Condition.Holds), (61, Condition.Holds)).Phase);
    }

    [Fact]
    public void SamplesWithoutEnoughTime_DoNotRaise()
    {
        Assert.Equal(AlertPhase.Watching, Run(Delayed, (0, Condition.Holds), (10, Condition.Holds), (29, Condition.Holds)).Phase);
        Assert.Equal(AlertPhase.Raised, Run(Delayed, (0, Condition.Holds), (10, Condition.Holds), (30, Condition.Holds)).Phase);
    }

    [Fact]
    public void TimeInTheDark_DoesNotCount()
    {
        var state = Run(Delayed, (0, Condition.Holds), (10, Condition.Unknown), (40, Condition.Holds));

        Assert.Equal((AlertPhase.Watching, TimeSpan.Zero, 2, false), (state.Phase, state.Held, state.Samples, state.IsBlind));
        Assert.Equal(AlertPhase.Raised, state.Next(Condition.Holds, At(70), Delayed).Phase);
    }

    [Fact]
    public void TimeBeforeTheDark_IsKept()
    {
        var state = Run(Delayed, (0, Condition.Holds), (20, Condition.Holds), (25, Condition.Unknown), (40, Condition.Holds), (50, Condition.Holds));

        Assert.Equal(AlertPhase.Raised, state.Phase);
    }

    [Fact]
    public void LongGap_BeginsWatchingAgain()
    {
        var state = Run(Delayed, (0, Condition.Holds), (20, Condition.Holds), (20 + (12 * 60) + 1, Condition.Holds));

        Assert.Equal((AlertPhase.Watching, TimeSpan.Zero, 1), (state.Phase, state.Held, state.Samples));
    }

    [Fact]
    public void LongGap_BeginsEasingAgainAndKeepsTheAlert()
    {
        var raised = Run(Delayed, (0, Condition.Holds), (30, Condition.Holds), (40, Condition.Clear), (90, Condition.Clear));
        var after = raised.Next(Condition.Clear, At(90 + (13 * 60)), Delayed);

        Assert.Equal((AlertPhase.Easing, TimeSpan.Zero), (after.Phase, after.Held));
        Assert.Equal(AlertPhase.Quiet, after.Next(Condition.Clear, At(150 + (13 * 60)), Delayed).Phase);
    }

    [Fact]
    public void Latched_OnlyEndsWhenItDoesNotApply()
    {
        var timing = Immediate with { Latched = true };
        var raised = Run(timing, (0, Condition.Holds), (60, Condition.Clear), (600, Condition.Clear));

        Assert.Equal(AlertPhase.Raised, raised.Phase);
        Assert.Equal(AlertPhase.Quiet, raised.Next(Condition.NotApplicable, At(601), timing).Phase);
    }

    [Fact]
    public void Leaky_TimeBetweenTheLimitsIsTakenOffWhatWasHeld()
    {
        var timing = Delayed with { Leaky = true };
        var dipped = Run(timing, (0, Condition.Holds), (20, Condition.Holds), (25, Condition.Between), (30, Condition.Holds));

        Assert.Equal((AlertPhase.Watching, TimeSpan.FromMinutes(20)), (dipped.Phase, dipped.Held));
        Assert.Equal(AlertPhase.Raised, dipped.Next(Condition.Holds, At(40), timing).Phase);
        Assert.Equal(AlertPhase.Watching, Run(Delayed, (0, Condition.Holds), (20, Condition.Holds), (25, Condition.Between), (30, Condition.Holds), (40, Condition.Holds)).Phase);
    }

    [Theory]
    [InlineData(Condition.Clear, 25)]
    [InlineData(Condition.Between, 40)]
    public void Leaky_ClearOrAsLongBetweenAsHeld_BeginsAnew(Condition condition, int minute)
    {
        var timing = Delayed with { Leaky = true };

        Assert.Equal(AlertPhase.Quiet, Run(timing, (0, Condition.Holds), (20, Condition.Holds), (minute, condition)).Phase);
    }

    [Theory]
    [InlineData(15, 12)]
    [InlineData(180, 12)]
    [InlineData(240, 16)]
    public void UsualGapLimit_IsFourIntervalsOrTwelveHours(int minutes, int hours) =>
        Assert.Equal(TimeSpan.FromHours(hours), AlertTiming.UsualGapLimit(TimeSpan.FromMinutes(minutes)));

    private static AlertState Run(AlertTiming timing, params (int Minute, Condition Condition)[] samples) =>
        samples.Aggregate(AlertState.Start, (state, sample) => state.Next(sample.Condition, At(sample.Minute), timing));

    private static RuleTime At(int minute) => RuleTime.Of(TimeSpan.FromMinutes(minute));
}
