using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

/// <summary>Gravity from the mass of gas lost: against the theory of gas-yield.csv and against the other side of the balance.</summary>
public sealed class GravityFromMassLossTests
{
    private static readonly Volume Twenty = Volume.FromLiters(20);

    [Fact]
    public void YieldOfGas_LiesInThePracticalRangeBelowTheory()
    {
        var theory = ReferenceTable.Read("gas-yield.csv").Single(row => row.Id == "CAR-gas-yield-001").ExpectedNumber;
        Assert.InRange(GravityFromMassLoss.CarbonDioxidePerExtract, 0.46, 0.47);
        Assert.InRange(GravityFromMassLoss.CarbonDioxidePerExtract / theory, 0.93, 1);
    }

    /// <summary>Rows 008 and 012 give the gas of a batch by theory from its sugar; with the practical yield the same sugar gives 93 to 96 % of it.</summary>
    [Theory]
    [InlineData("CAR-gas-yield-008")]
    [InlineData("CAR-gas-yield-012")]
    public void GasOfABatchByTheTable_AgreesWithOurYield(string id)
    {
        var row = ReferenceTable.Read("gas-yield.csv").Single(one => one.Id == id);
        const double LitersPerGram = 8.314462 * 293.15 / 101.325 / 44.009;
        var ours = row.Input("volume_L") * row.Input("sugar_g_per_L") * GravityFromMassLoss.CarbonDioxidePerExtract * LitersPerGram;
        Assert.InRange(ours / row.ExpectedNumber, 0.93, 0.97);
    }

    [Fact]
    public void AlcoholOfTheGravityFound_IsThatOfTheGasLost()
    {
        foreach (var original in (double[])[1.05, 1.09, 1.13])
        {
            var start = SpecificGravity.FromRatio(original);
            foreach (var share in (double[])[0.1, 0.4, 0.8])
            {
                var present = MassBalanceAt(start, share, out var grams);
                var told = GravityFromMassLoss.Of(start, Twenty, grams / 1000 * 20);
                Assert.Equal(present.Value, told.Value.Value, 2e-6);
            }
        }
    }

    [Fact]
    public void NothingLost_IsTheOriginal()
    {
        var told = GravityFromMassLoss.Of(SpecificGravity.FromRatio(1.09), Twenty, 0);
        Assert.Equal(1.09, told.Value.Value, 1e-6);
        Assert.Equal(Validity.WithinSource, told.Validity);
        Assert.Equal(0.002, told.Tolerance, 1e-6);
    }

    [Fact]
    public void MoreLostThanSugarCanGive_OrGained_IsHeldAndMarked()
    {
        var start = SpecificGravity.FromRatio(1.09);
        Assert.Equal(Validity.Extrapolated, GravityFromMassLoss.Of(start, Twenty, 5).Validity);
        Assert.Equal(Validity.Extrapolated, GravityFromMassLoss.Of(start, Twenty, -0.1).Validity);
        Assert.InRange(GravityFromMassLoss.Of(start, Twenty, 5).Value.Value, 0.97, 0.995);
        Assert.Throws<ArgumentOutOfRangeException>(() => GravityFromMassLoss.Of(start, Volume.FromLiters(0), 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => GravityFromMassLoss.Of(start, Twenty, double.NaN));
    }

    [Fact]
    public void MoreLost_LowerGravity()
    {
        var gravities = Enumerable.Range(0, 20).Select(i => GravityFromMassLoss.Of(SpecificGravity.FromRatio(1.1), Twenty, 0.1 * i).Value.Value).ToList();
        Assert.Equal(gravities.OrderDescending(), gravities);
        Assert.Equal(gravities.Count, gravities.Distinct().Count());
    }

    /// <summary>A present gravity somewhere on the way to dryness, and the gas that its alcohol stands for by Balling, in grams for a liter of must.</summary>
    private static SpecificGravity MassBalanceAt(SpecificGravity start, double share, out double grams)
    {
        var present = SpecificGravity.FromRatio(start.Value - (share * (start.Value - 0.99)));
        var percent = MassBalance.Of(start, present).Alcohol.Value.Percent;
        // % vol to mass share A of the liquid; a from A = a / (100 - 1.0665 a).
        var massShare = percent / 100 * 789.24 / (present.Value * 998.2012);
        var ethanol = 100 * massShare / (1 + (1.0665 * massShare));
        grams = 0.9565 * ethanol / 100 * start.Value * 998.2012;
        return present;
    }
}
