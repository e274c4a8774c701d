using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class MassBalanceTests
{
    [Fact]
    public void AlcoholRows_AgreeWithTheModel() => ReferenceCheck.AllAgree(
        "abv_massbalance.csv", row => row.Unit == "% vol", rows: 46, independentRows: 0, row => OfRow(row).Alcohol.Value.Percent);

    [Fact]
    public void RealExtractRows_AgreeWithTheModel() => ReferenceCheck.AllAgree(
        "abv_massbalance.csv", row => row.Unit == "g/L", rows: 48, independentRows: 0, row => OfRow(row).RealExtract.Value.GramsPerLiter);

    // Means of measured beers, [Cutaia2009] table III: the only measured originals at hand, and none above 18 °P.
    [Fact]
    public void MeasuredBeers_HaveTheAlcoholByMass() => ReferenceCheck.AllAgree(
        "alcohol_relations.csv",
        row => row.Quantity.StartsWith("MEASURED", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row =>
        {
            var present = SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("apparent_extract_P"))).Value;
            var result = MassBalance.Of(SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("original_extract_P"))).Value, present);
            return result.Alcohol.Value.Percent * 789.24 / (present.Value * 998.2012);
        });

    // 19.3 ± 2.4 g/L in 4,898 white wines and 30.0 ± 3.9 in 1,599 reds, whose mean strength is 10.5 % vol (from memory).
    [Fact]
    public void NonSugarExtract_IsThatOfMeasuredWhiteWinesAndItsErrorReachesTheMeanRed()
    {
        var means = ReferenceTable.Read("measured-alcohol.csv")
            .Where(row => row.Quantity.EndsWith("residual sugar: mean", StringComparison.Ordinal)
                && row.Quantity.StartsWith("sugar-free", StringComparison.Ordinal))
            .ToDictionary(row => row.Inputs["color"], row => row.ExpectedNumber);
        var ours = MassBalance.NonSugarOfMustGramsPerLiter + (10.5 * MassBalance.NonSugarPerPercentGramsPerLiter);
        Assert.InRange(ours, means["white"] - 0.5, means["white"] + 0.5);
        Assert.InRange(means["red"], ours - MassBalance.SugarToleranceGramsPerLiter, ours + MassBalance.SugarToleranceGramsPerLiter);
    }

    [Property(MaxTest = 300)]
    public Property FallingGravity_MeansMoreAlcoholAndLessExtract() => Prop.ForAll(
        Numbers.Between(1.03, 1.17).ToArbitrary(),
        Numbers.Between(0, 0.99).ToArbitrary(),
        Numbers.Between(0.0005, 0.01).ToArbitrary(),
        (original, share, more) =>
        {
            var present = original - (share * (original - 0.99));
            var before = Of(original, present);
            var after = Of(original, present - more);
            return after.Alcohol.Value > before.Alcohol.Value && after.RealExtract.Value < before.RealExtract.Value
                && after.SugarLeft.Value <= before.SugarLeft.Value;
        });

    // The result, put back into the equations the model states, must give Balling's original extract and Tabarié's gravity.
    [Property(MaxTest = 300)]
    public Property Result_ClosesBothBalances() => Prop.ForAll(
        Numbers.Between(1.03, 1.17).ToArbitrary(),
        Numbers.Between(0.01, 1).ToArbitrary(),
        (original, share) =>
        {
            var present = original - (share * (original - 0.992));
            var result = Of(original, present);
            var extract = 100 * result.RealExtract.Value.GramsPerLiter / (present * 998.203);
            var alcohol = result.Alcohol.Value.Percent * 789.2391 / (present * 998.20123);
            var balling = 100 * ((2.0665 * alcohol) + extract) / (100 + (1.0665 * alcohol));
            var wanted = SucroseSolution.PlatoOf(SpecificGravity.FromRatio(original)).Value.Degrees;
            var dryExtract = DryExtract.Of(SpecificGravity.FromRatio(present), result.Alcohol.Value).Value.GramsPerLiter;
            return Math.Abs(balling - wanted) < 1e-4 && Math.Abs(dryExtract - result.RealExtract.Value.GramsPerLiter) < 1e-4;
        });

    [Fact]
    public void NothingFermented_LeavesTheSugarOfTheStart()
    {
        var result = Of(1.09, 1.09);
        Assert.Equal(0, result.Alcohol.Value.Percent);
        Assert.Equal(result.SugarAtStart.Value.GramsPerLiter, result.SugarLeft.Value.GramsPerLiter, 9);
        Assert.Equal(Validity.WithinSource, result.Alcohol.Validity);
    }

    [Fact]
    public void PresentAboveOriginal_GivesNoAlcoholAndIsMarked()
    {
        var result = Of(1.09, 1.095);
        Assert.Equal(0, result.Alcohol.Value.Percent);
        Assert.Equal(Validity.Extrapolated, result.Alcohol.Validity);
        Assert.True(result.SugarLeft.Value > result.SugarAtStart.Value);
    }

    [Theory]
    [InlineData(1.090, 0.996)]
    [InlineData(1.090, 0.992)]
    [InlineData(1.110, 0.990)]
    [InlineData(1.050, 0.998)]
    public void DryFinish_LeavesASugarFigureThatItsErrorSwallows(double original, double present)
    {
        var left = Of(original, present).SugarLeft;
        Assert.InRange(left.Value.GramsPerLiter, 0, left.Tolerance);
    }

    [Fact]
    public void AnyTwoGravities_HaveAnAnswer()
    {
        for (var original = 0.7; original <= 1.6; original += 0.01)
        {
            for (var present = 0.7; present <= 1.6; present += 0.01)
            {
                var result = Of(original, present);
                if (original is < 1 or > 1.175 || present < 0.98 || present > original + 1e-9)
                {
                    Assert.True(
                        result.Alcohol.Validity == Validity.Extrapolated,
                        string.Create(CultureInfo.InvariantCulture, $"original {original}, present {present}"));
                }
            }
        }
    }

    private static MassBalanceResult OfRow(ReferenceRow row) => Of(row.Input("og_20_20"), row.Input("fg_20_20"));

    private static MassBalanceResult Of(double original, double present) =>
        MassBalance.Of(SpecificGravity.FromRatio(original), SpecificGravity.FromRatio(present));
}
