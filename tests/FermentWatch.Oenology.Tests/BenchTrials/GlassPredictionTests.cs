using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class GlassPredictionTests
{
    // Sugar in pure water must give the gravity of a sucrose solution of that concentration: the volume rule against the density tables.
    [Theory]
    [InlineData(5)]
    [InlineData(20)]
    [InlineData(60)]
    [InlineData(100)]
    public void SugarInWater_HasTheGravityOfASucroseSolution(double gramsPerLiter)
    {
        var (low, high) = (1.0, 1.2);
        while (high - low > 1e-12)
        {
            var middle = (low + high) / 2;
            (low, high) = SucroseSolution.GramsPerLiterOf(SpecificGravity.FromRatio(middle)).Value.GramsPerLiter < gramsPerLiter ? (middle, high) : (low, middle);
        }

        var predicted = GlassPrediction.Of(new BenchWine(10, 0, 1.0), [new(TrialAdditive.Sucrose, gramsPerLiter)]).SpecificGravity!.Value;
        Assert.InRange(predicted.Value.Value, low - 0.0004, low + 0.0004);
        Assert.InRange(Math.Abs(predicted.Value.Value - low), 0, predicted.Tolerance);
    }

    // By hand: 12.4 mL of 20 g/L sugar leave 0.9876 of the wine.
    [Fact]
    public void SugarThinsEverythingElse()
    {
        var prediction = GlassPrediction.Of(BenchScenario.Wine, [new(TrialAdditive.Sucrose, 20)]);
        Assert.Equal(0.9876, prediction.WineShare, 1e-9);
        Assert.Equal(12.5 * 0.9876, prediction.AlcoholPercent!.Value, 1e-9);
        Assert.Equal(5.5 * 0.9876, prediction.AcidityLowGramsPerLiter!.Value, 1e-9);
        Assert.Equal(20, prediction.SugarAddedGramsPerLiter, 1e-9);
        Assert.Equal((2 * 0.9876) + 20, prediction.SugarGramsPerLiter!.Value, 1e-9);
        Assert.Null(prediction.Ph);
    }

    // Equivalent masses: tartaric 75.04, malic 67.04, citric 64.04, lactic 90.08 g for a mole of acid hydrogen.
    [Theory]
    [InlineData("tartaric-acid", 75.04 / 75.04)]
    [InlineData("malic-acid", 75.04 / 67.04)]
    [InlineData("citric-acid", 75.04 / 64.04)]
    [InlineData("lactic-acid", 75.04 / 90.08)]
    public void AcidsRaiseAcidityByEquivalentMass(string code, double perGram)
    {
        var additive = TrialAdditive.All.Single(additive => additive.Code == code);
        var prediction = GlassPrediction.Of(new BenchWine(10, 0, null, null, null, 0), [new(additive, 1)]);
        Assert.Equal(perGram, prediction.AcidityLowGramsPerLiter!.Value, 0.001);
        Assert.Equal(prediction.AcidityLowGramsPerLiter, prediction.AcidityHighGramsPerLiter);
    }

    [Fact]
    public void Bicarbonate_IsShownAsARange()
    {
        var prediction = GlassPrediction.Of(BenchScenario.Wine, [new(TrialAdditive.PotassiumBicarbonate, 1)]);
        Assert.Equal(0.75, prediction.AcidityHighGramsPerLiter!.Value - prediction.AcidityLowGramsPerLiter!.Value, 1e-9);
        Assert.True(prediction.AcidityHighGramsPerLiter < 5.5 - 0.7);
    }

    [Fact]
    public void UnknownFigures_StayUnknown()
    {
        var prediction = GlassPrediction.Of(new BenchWine(10, 0.1), [new(TrialAdditive.Tannin, 0.1)]);
        Assert.Null(prediction.SpecificGravity);
        Assert.Null(prediction.AlcoholPercent);
        Assert.Null(prediction.SugarGramsPerLiter);
        Assert.Null(prediction.AcidityLowGramsPerLiter);
        Assert.Equal(0.1, prediction.TanninGramsPerLiter, 1e-9);
    }

    [Fact]
    public void PhModel_GetsWineShareAndDoses()
    {
        var prediction = GlassPrediction.Of(BenchScenario.Wine, [new(TrialAdditive.Tartaric, 1)], 0, (wine, share, doses) => new(wine.Ph!.Value - (0.1 * doses[0].GramsPerLiter * share), 0.1));
        Assert.Equal(3.45 - (0.1 * prediction.WineShare), prediction.Ph!.Value.Value, 1e-12);
    }

    [Fact]
    public void Honey_BringsItsWaterAndItsVolume()
    {
        // 10 g/L sugars are 12.18 g honey, 8.58 mL.
        var prediction = GlassPrediction.Of(BenchScenario.Wine, [new(TrialAdditive.Honey, 10)]);
        Assert.Equal(1 - (10 / 0.821 / 1.42 / 1000), prediction.WineShare, 1e-9);
    }

    [Fact]
    public void MostlyAdditive_IsRefused() => Assert.Throws<ArgumentOutOfRangeException>(() => GlassPrediction.Of(BenchScenario.Wine, [new(TrialAdditive.Honey, 800)]));
}
