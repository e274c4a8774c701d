using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class PhaseJudgeTests
{
    private static readonly DrawnFerment Ferment = new();

    [Theory]
    [InlineData(10, Phase.Lag)]
    [InlineData(90, Phase.Active)]
    [InlineData(130, Phase.Active)]
    [InlineData(190, Phase.Slowing)]
    [InlineData(800, Phase.Flat)]
    public void OrdinaryFerment_GoesThroughItsPhases(double hours, Phase expected)
    {
        var assessment = PhaseJudge.Assess(Ferment.Input(hours, everyHours: 1));
        Assert.True(expected == assessment.Phase, $"{assessment} at {hours} h, seed {Ferment.Seed}");
        var truth = (Ferment.At(hours - 24) - Ferment.At(hours)) / 1000;
        Assert.InRange(assessment.RatePerDay!.Value - truth, -0.004, 0.004);
    }

    [Fact]
    public void Arrest_IsFlatOnlyAfterTwoDaysOfProof()
    {
        var arrested = Ferment with { StopHours = 110 };
        Assert.NotEqual(Phase.Flat, PhaseJudge.Assess(arrested.Input(130)).Phase);
        Assert.Equal(Phase.Flat, PhaseJudge.Assess(arrested.Input(110 + 100)).Phase);
    }

    [Fact]
    public void SlowFall_IsNeverCalledFlat()
    {
        // 1.2 points a day for ten days, at twenty seeds.
        for (var seed = 1; seed <= 20; seed++)
        {
            var slow = new DrawnFerment { Seed = seed, Start = 30, Noise = 0.7, Correlation = 0.7 };
            var input = slow.Input(300, everyHours: 1);
            var straight = input.Gravity.Select((p, i) => p with { Gravity = Straight(p, slow, 30 - (1.2 * i / 24)) });
            var assessment = PhaseJudge.Assess(input with { Gravity = ValueList.Of<GravityPoint>(straight) });
            Assert.True(assessment.Phase != Phase.Flat, $"seed {seed}: {assessment}");
        }
    }

    [Fact]
    public void NoisyStandstill_IsNotProvenFlatInTwoDays()
    {
        var noisy = Ferment with { StopHours = 0, Noise = 4, Correlation = 0.9, Start = 5, Told = 60 };
        Assert.NotEqual(Phase.Flat, PhaseJudge.Assess(noisy.Input(50)).Phase);
    }

    [Fact]
    public void Silence_IsUnknownWithItsLength()
    {
        var input = Ferment.Input(100);
        var assessment = PhaseJudge.Assess(input with { AsOf = input.AsOf + TimeSpan.FromHours(30) });
        Assert.Equal(Phase.Unknown, assessment.Phase);
        Assert.Equal("phase-unknown-silent", assessment.Because.Code);
        Assert.Null(assessment.RatePerDay);
    }

    [Fact]
    public void NoReadings_IsUnknown() =>
        Assert.Equal("phase-unknown-no-readings", PhaseJudge.Assess(Ferment.Input(50) with { Gravity = ValueList.Of<GravityPoint>() }).Because.Code);

    [Fact]
    public void FewReadings_AreUnknown() =>
        Assert.Equal("phase-unknown-too-few", PhaseJudge.Assess(Ferment.Input(20, everyHours: 8)).Because.Code);

    // Twelve readings are enough in number, and say nothing of a day while they span three hours.
    [Fact]
    public void ManyReadingsOfAFewHours_SaySoInsteadOfCountingThem()
    {
        var because = PhaseJudge.Assess(Ferment.Input(3, everyHours: 0.25)).Because;
        Assert.Equal("phase-unknown-too-short", because.Code);
        Assert.Equal(TimeSpan.FromHours(6), Assert.IsType<ReasonValue.Length>(because.Values[1]).Span);
    }

    [Fact]
    public void SensorThatCameLate_IsNotLag()
    {
        // The sensor went in after most of the fall; the told original gravity says that it is no lag.
        var assessment = PhaseJudge.Assess(Ferment.Input(900, everyHours: 1, fromHours: 780));
        Assert.Equal(Phase.Flat, assessment.Phase);
    }

    [Fact]
    public void ReadingsAfterAnAddition_AreJudgedAfresh()
    {
        var fed = Ferment with { Step = (400, 20) };
        var input = fed.Input(430);
        var falling = input.Gravity.Select(p =>
        {
            var since = (p.At - DrawnFerment.Inoculated).TotalHours - 400;
            return since < 0 ? p : p with { Gravity = Straight(p, fed, fed.At(400) - (0.3 * since)) };
        });
        Assert.Equal(Phase.Active, PhaseJudge.Assess(input with { Gravity = ValueList.Of<GravityPoint>(falling) }).Phase);
    }

    /// <summary>The noise of a drawn point around another level.</summary>
    private static Oenology.Quantities.SpecificGravity Straight(GravityPoint point, DrawnFerment ferment, double level)
    {
        var noise = point.Gravity.Points - ferment.At((point.At - DrawnFerment.Inoculated).TotalHours);
        return Oenology.Quantities.SpecificGravity.FromPoints(level + noise);
    }
}
