using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Restart;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Restart;

/// <summary>The plan's rules, each common practice without a source unless said; the arithmetic of the doublings against the balance of volumes.</summary>
public sealed class RestartPlanTests
{
    private static readonly StoppedFerment Usual = new(
        Volume.FromLiters(20), SpecificGravity.FromRatio(1.100), SpecificGravity.FromRatio(1.030), Temperature.FromCelsius(20));

    public static TheoryData<StopCause, double, double, double?, double?, double?, bool> Causes => new()
    {
        { StopCause.PerhapsFinished, 0.994, 20, 3.4, 14, null, false },
        { StopCause.Sorbate, 1.030, 20, 3.4, 14, null, true },
        { StopCause.Sulfite, 1.030, 20, 3.4, 14, 45, false },
        { StopCause.AlcoholTolerance, 1.030, 20, 3.4, 9, null, false },
        { StopCause.Heat, 1.030, 36, 3.4, 14, null, false },
        { StopCause.Cold, 1.030, 13, 3.4, 14, null, false },
        { StopCause.LowPh, 1.030, 20, 3.05, 14, null, false },
        { StopCause.NutritionOrYeast, 1.030, 20, 3.4, 14, 10, false },
        { StopCause.NutritionOrYeast, 1.030, 20, null, null, null, false },
    };

    [Theory]
    [MemberData(nameof(Causes))]
    public void LikelyCause_ComesFirst(StopCause expected, double present, double celsius, double? ph, double? tolerance, double? free, bool sorbate)
    {
        var advice = RestartPlan.For(new(
            Volume.FromLiters(20),
            SpecificGravity.FromRatio(1.100),
            SpecificGravity.FromRatio(present),
            Temperature.FromCelsius(celsius),
            ph is { } acidity ? Ph.FromValue(acidity) : null,
            tolerance is { } bears ? AlcoholByVolume.FromPercent(bears) : null,
            free is { } sulfite ? MassConcentration.FromMilligramsPerLiter(sulfite) : null,
            sorbate));
        Assert.Equal(expected, advice.Causes[0]);
    }

    [Fact]
    public void SeveralCauses_AreAllNamed() => Assert.Equal(
        [StopCause.AlcoholTolerance, StopCause.Cold, StopCause.LowPh],
        RestartPlan.For(Usual with { Temperature = Temperature.FromCelsius(12), Ph = Ph.FromValue(3.0), Tolerance = AlcoholByVolume.FromPercent(9) }).Causes);

    [Fact]
    public void WithSorbate_NoRestartIsPlanned()
    {
        var advice = RestartPlan.For(Usual with { Sorbate = true });
        Assert.Null(advice.Starter);
        Assert.Equal(["sugar-test", "no-restart"], advice.Steps.Select(step => step.Code));
    }

    [Fact]
    public void StepsStandInTheirOrder()
    {
        var advice = RestartPlan.For(Usual with { Temperature = Temperature.FromCelsius(14), Ph = Ph.FromValue(3.1) });
        Assert.Equal(
            ["sugar-test", "degas", "temperature", "ph", "rack", "rehydrate", "starter", "double-1", "double-2", "double-3", "join", "nutrient", "watch"],
            advice.Steps.Select(step => step.Code));
        Assert.Contains("14.0 °C to 20 to 22 °C, by at most 3 °C a day, 2 d", Step(advice, "temperature"), StringComparison.Ordinal);
        Assert.Contains("5.0 g (0.25 g/L)", Step(advice, "ph"), StringComparison.Ordinal);
        Assert.Contains("40.0 g at most in all", Step(advice, "ph"), StringComparison.Ordinal);
        Assert.Contains("10.0 g of dry yeast (0.5 g/L) in 100 mL", Step(advice, "rehydrate"), StringComparison.Ordinal);
    }

    [Fact]
    public void EveryStep_SaysWhatStandsBehindIt() => Assert.All(
        RestartPlan.For(Usual with { Temperature = Temperature.FromCelsius(36), FreeSulfite = MassConcentration.FromMilligramsPerLiter(50) }).Steps,
        step => Assert.EndsWith(step.IsPublished ? "(published)." : "(common practice, no source).", step.Text.Replace("A ferment that still moves needs no restart (published).", "(published).", StringComparison.Ordinal), StringComparison.Ordinal));

    // Common practice, no source: no inorganic nitrogen past 9 % vol.
    [Theory]
    [InlineData(1.060, true)]
    [InlineData(1.000, false)]
    public void InorganicNitrogen_OnlyBelowNinePercent(double present, bool given)
    {
        var ferment = Usual with { Present = SpecificGravity.FromRatio(present) };
        Assert.Equal(given, MassBalance.Of(ferment.Original, ferment.Present).Alcohol.Value.Percent < 9);
        Assert.Equal(given, Step(RestartPlan.For(ferment), "nutrient").Contains("diammonium", StringComparison.Ordinal));
    }

    // Each doubling adds as much wine as there is starter; alcohol follows by the balance of volumes.
    [Property(MaxTest = 300)]
    public Property Doublings_DoubleAndGetUsedToTheAlcohol() => Prop.ForAll(
        Numbers.Between(1, 500).ToArbitrary(),
        Numbers.Between(0.99, 1.08).ToArbitrary(),
        (liters, present) =>
        {
            var starter = RestartPlan.For(Usual with { Volume = Volume.FromLiters(liters), Present = SpecificGravity.FromRatio(present) }).Starter!;
            var (volume, wine, right) = (starter.FirstLiters, 0.0, true);
            for (var i = 0; i < starter.WineLiters.Count; i++)
            {
                right &= Math.Abs(starter.WineLiters[i] - volume) < 1e-9;
                (volume, wine) = (volume + starter.WineLiters[i], wine + starter.WineLiters[i]);
                right &= Math.Abs(starter.AlcoholShares[i] - (wine / volume)) < 1e-9;
            }

            return right && Math.Abs(starter.FinalLiters - (liters / 4)) < 1e-9 && Math.Abs(starter.YeastGrams - (liters / 2)) < 1e-9;
        });

    [Fact]
    public void StrongWine_GetsAFourthDoubling()
    {
        Assert.Equal(3, RestartPlan.For(Usual).Starter!.WineLiters.Count);
        Assert.Equal(4, RestartPlan.For(Usual with { Original = SpecificGravity.FromRatio(1.130), Present = SpecificGravity.FromRatio(1.020) }).Starter!.WineLiters.Count);
    }

    [Fact]
    public void NoVolume_Throws() => Assert.Throws<ArgumentOutOfRangeException>(() => RestartPlan.For(Usual with { Volume = Volume.FromLiters(0) }));

    private static string Step(RestartAdvice advice, string code) => advice.Steps.Single(step => step.Code == code).Text;
}
