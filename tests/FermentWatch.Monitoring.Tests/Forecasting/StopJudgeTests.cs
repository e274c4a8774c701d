using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>Told original gravity 92 points and tolerance 15 % vol: dry lies near -7, the tolerance below it.</summary>
public class StopJudgeTests
{
    private static readonly DrawnFerment Ferment = new() { End = -6, Noise = 0.4, Correlation = 0.7 };

    [Fact]
    public void RestingFarAboveTheEnd_IsStuckAndNeverReady()
    {
        var onTheFourthDay = 0;
        for (var seed = 1; seed <= 12; seed++)
        {
            // Stops near 30 points with about 75 g/L of sugar left.
            var arrested = Ferment with { Seed = seed, StopHours = 100 };
            foreach (var hours in new[] { 148, 196, 268, 412, 700 })
            {
                var stop = Assess(arrested.Input(hours, everyHours: 1));
                Assert.False(stop.IsReadyToStabilize, $"seed {seed} at {hours} h: {stop}");
                Assert.True(stop.IsStuck || hours <= 196, $"seed {seed} at {hours} h: {stop}");
                onTheFourthDay += hours == 196 && stop.IsStuck ? 1 : 0;
            }
        }

        // The noise of a last day may look like a fall, and a slow fall with far to go is not stuck yet.
        Assert.True(onTheFourthDay >= 10, $"stuck on the fourth day: {onTheFourthDay} of 12");
    }

    [Fact]
    public void RestingAtTheDryEnd_IsFinishedAndThenReady()
    {
        for (var seed = 1; seed <= 12; seed++)
        {
            var stop = Assess((Ferment with { Seed = seed }).Input(520, everyHours: 1));
            Assert.True(stop is { IsFinished: true, IsReadyToStabilize: true, IsStuck: false, Cause: StopCause.None }, $"seed {seed}: {stop}");
        }
    }

    [Fact]
    public void RestingAtTheTolerance_IsFinishedWithSugarLeftAndNotStuck()
    {
        // 120 points and 12 % vol: 1000 x 12 / (125 + 0.065 x 120) = 90.4 points of fall, so it ends near 30, sweet.
        var sweet = new DrawnFerment { Kind = FermentKind.Mead, Start = 120, Told = 120, Tolerance = 12, End = 31, Noise = 0.4 };
        for (var seed = 1; seed <= 12; seed++)
        {
            var stop = Assess((sweet with { Seed = seed }).Input(620, everyHours: 1));
            Assert.True(stop is { IsFinished: true, IsStuck: false }, $"seed {seed}: {stop}");
        }
    }

    [Fact]
    public void SameRestWithoutATold_IsLessSurelyStuck()
    {
        var sweet = new DrawnFerment { Kind = FermentKind.Mead, Start = 120, Told = 120, End = 31, Noise = 0.4 };
        var told = Assess((sweet with { Tolerance = 18 }).Input(620, everyHours: 1));
        var untold = Assess((sweet with { Tolerance = null }).Input(620, everyHours: 1));
        Assert.True(told.Stuck > 0.9, $"{told}");
        Assert.True(untold.Stuck < told.Stuck - 0.1, $"{untold} and {told}");
        Assert.False(untold.IsReadyToStabilize, $"{untold}");
    }

    [Fact]
    public void StillFalling_IsNothingOfIt()
    {
        var stop = Assess(Ferment.Input(110, everyHours: 1));
        Assert.True(stop is { IsStuck: false, IsFinished: false, IsReadyToStabilize: false }, $"{stop}");
    }

    [Fact]
    public void RestInTheCold_IsNotReadyAndNamesTheCold()
    {
        // Stops at 12 points because the must is at 7 °C.
        var asleep = Ferment with { StopHours = 128, Celsius = 7 };
        var stop = Assess(asleep.Input(128 + 96, everyHours: 1));
        Assert.True(stop is { IsStuck: true, IsReadyToStabilize: false, Cause: StopCause.Cold }, $"{stop}");
    }

    [Fact]
    public void RestThatBeganInTheCold_IsNotReadyBeforeItLastedInTheWarm()
    {
        // Two points above what is usual: finished, or asleep until yesterday. Only days in the warm can tell.
        var resting = Ferment with { End = -1.5 };
        var input = resting.Input(520, everyHours: 1);
        var warmed = input.Temperature.Select(point =>
        {
            var celsius = Temperature.FromCelsius((point.At - DrawnFerment.Inoculated).TotalHours < 500 ? 12 : 20);
            return new TemperaturePoint(point.At, celsius, celsius, celsius);
        });
        Assert.False(Assess(input with { Temperature = ValueList.Of<TemperaturePoint>(warmed) }).IsReadyToStabilize);
    }

    [Fact]
    public void LongFerment_IsWatchedForLonger()
    {
        // 0.35 points a day: rest for a ferment of ten days, a tail for one of forty.
        StopAssessment Tail(double fromHours) => Assess(Straight(Ferment, fromHours, fromHours + 144, -6, 0.35));
        Assert.False(Tail(40 * 24).IsReadyToStabilize);
    }

    [Fact]
    public void StoppedByTheColdSoonAfterItBegan_IsStuck()
    {
        // Four points fallen, then four days at 6 °C: too little for rest in the warm, far more than a lag.
        for (var seed = 1; seed <= 6; seed++)
        {
            var chilled = Ferment with { Seed = seed, Noise = 0.3, StopHours = HoursAtFall(4), Celsius = 6 };
            var stop = Assess(chilled.Input(chilled.StopHours + 96, everyHours: 1));
            Assert.True(stop is { IsStuck: true, Cause: StopCause.Cold, IsReadyToStabilize: false }, $"seed {seed}: {stop}");
        }
    }

    [Fact]
    public void NeverBegunInTheCold_IsKeptByItAndInTheWarmIsALag()
    {
        var waiting = Ferment with { LagHours = 2000, Noise = 0.3 };
        Assert.True(Assess((waiting with { Celsius = 6 }).Input(120, everyHours: 1)) is { IsStuck: true, Cause: StopCause.Cold });
        Assert.False(Assess((waiting with { Celsius = 6 }).Input(48, everyHours: 1)).IsStuck);
        Assert.False(Assess(waiting.Input(120, everyHours: 1)).IsStuck);
    }

    [Fact]
    public void SlowFermentWithFarToFall_IsNotStuckWhileItFalls()
    {
        // A point a day from 12 points on: ten days and more to go. A rest is another thing.
        for (var seed = 1; seed <= 6; seed++)
        {
            var slow = Straight(Ferment with { Seed = seed, Noise = 0.3 }, 130, 130 + 120, 12, 1.1);
            var stop = Assess(slow);
            Assert.False(stop.IsStuck || stop.IsFinished, $"seed {seed}: {stop}");
        }
    }

    [Fact]
    public void StartThatNobodyTold_IsTheOneThatTheSensorSaw()
    {
        // As RestingAtTheTolerance, but the original gravity of 120 is not told: a mead usually starts at 100, and 12 % vol from there would end near 10.
        var sweet = new DrawnFerment { Kind = FermentKind.Mead, Start = 120, Told = null, Tolerance = 12, End = 31, Noise = 0.4 };
        for (var seed = 1; seed <= 12; seed++)
        {
            var stop = Assess((sweet with { Seed = seed }).Input(620, everyHours: 1));
            Assert.True(stop is { IsFinished: true, IsStuck: false }, $"seed {seed}: {stop}");
        }
    }

    [Fact]
    public void Ready_OnceSaidIsDoubtedAtOneLookAtMostWhileNothingFalls()
    {
        for (var seed = 1; seed <= 6; seed++)
        {
            var (said, takenBack) = (false, 0);
            for (var hours = 420; hours <= 640; hours += 12)
            {
                var isReady = Assess((Ferment with { Seed = seed, Noise = 0.5, Correlation = 0.7 }).Input(hours, everyHours: 1)).IsReadyToStabilize;
                takenBack += said && !isReady ? 1 : 0;
                said = isReady;
            }

            Assert.True(said && takenBack <= 1, $"seed {seed}: ready at last {said}, taken back {takenBack} times");
        }
    }

    [Fact]
    public void Ready_IsTakenBackByAFallOfDays()
    {
        // It rests at -1.5 until hour 480 and is ready; then sugar that it had not used goes, 1.5 points a day.
        var input = Straight(Ferment with { End = -1.5, Noise = 0.3 }, 480, 480 + 72, -1.5, 1.5);
        Assert.False(Assess(input).IsReadyToStabilize);
    }

    [Fact]
    public void RestAboveTheUsualEndAfterSugar_IsReadyOnlyOnceMeasuredByHand()
    {
        // Stirring in sugar moves a sensor by some points (common practice, no source): its level alone does not tell the end from an arrest.
        var fed = Ferment with { End = -10, Step = (100, 8), Events = ValueList.Of(DrawnFerment.Journal(JournalKind.SugarAdded, 100)) };
        var input = fed.Input(560, everyHours: 1);
        var before = Assess(input);
        // An hour before the sugar says nothing; an hour after it does.
        Assert.False(Assess(input with { MeasuredByHandAt = DrawnFerment.Inoculated + TimeSpan.FromHours(99) }).IsReadyToStabilize);
        var after = Assess(input with { MeasuredByHandAt = DrawnFerment.Inoculated + TimeSpan.FromHours(500) });
        Assert.True(before is { IsFinished: true, IsReadyToStabilize: false }, $"{before}");
        Assert.True(after is { IsFinished: true, IsReadyToStabilize: true }, $"{after}");
    }

    [Fact]
    public void HandReadingsAlone_AreNotJudgedHere()
    {
        var input = Ferment.Input(520, everyHours: 12) with { ByHand = true };
        Assert.Equal(StopAssessment.Unknown, Assess(input));
    }

    private static double HoursAtFall(double points)
    {
        var hours = 0.0;
        while (Ferment.Start - Ferment.At(hours) < points)
        {
            hours += 0.5;
        }

        return hours;
    }

    /// <summary>The drawn ferment, then from an hour on a straight fall from a level.</summary>
    private static ForecastInput Straight(DrawnFerment ferment, double fromHours, double untilHours, double level, double perDay)
    {
        var input = ferment.Input(untilHours, everyHours: 2);
        var points = input.Gravity.Select(point =>
        {
            var hours = (point.At - DrawnFerment.Inoculated).TotalHours;
            return hours < fromHours ? point : point with { Gravity = SpecificGravity.FromPoints(point.Gravity.Points - ferment.At(hours) + level - (perDay * (hours - fromHours) / 24)) };
        });
        return input with { Gravity = ValueList.Of<GravityPoint>(points) };
    }

    private static StopAssessment Assess(ForecastInput input)
    {
        var cancel = TestContext.Current.CancellationToken;
        return StopJudge.Assess(input, PhaseJudge.Assess(input), Forecaster.At(input, cancel));
    }
}
