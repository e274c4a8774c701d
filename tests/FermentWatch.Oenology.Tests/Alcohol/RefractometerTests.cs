using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class RefractometerTests
{
    // A program of its own, additive by volume where ours is by mass: rows of a model, not of nature.
    [Fact]
    public void ModelOfAnotherProgram_Agrees() => ReferenceCheck.AllAgree(
        "refractometer.csv", row => row.Inputs.ContainsKey("extract_g_per_L"), rows: 9, independentRows: 0,
        row => Refractometer.BrixShown(AlcoholByVolume.FromPercent(row.Input("abv_percent")), SugarConcentration.FromGramsPerLiter(row.Input("extract_g_per_L"))));

    [Fact]
    public void FortifiedWines_FollowThePublishedRelation() => ReferenceCheck.AllAgree(
        "refractometer.csv", row => row.Inputs.ContainsKey("apparent_baume"), rows: 3, independentRows: 0,
        row => Refractometer.FortifiedAlcohol(row.Input("apparent_brix"), row.Input("apparent_baume")).Value.Percent,
        independent: _ => false);

    // The relation was measured, the model was not made from it.
    [Theory]
    [InlineData(14.5, 1.0)]
    [InlineData(17.0, 3.0)]
    [InlineData(16.5, 2.0)]
    public void ModelAndMeasuredRelation_MeetWithinHalfAPercent(double brix, double baume) => Assert.InRange(
        Refractometer.WithHydrometer(TradeScales.GravityOfBaume(baume), brix).Alcohol.Value.Percent
            - Refractometer.FortifiedAlcohol(brix, baume).Value.Percent,
        -0.5,
        0.5);

    [Theory]
    [InlineData(1.090, 1.030)]
    [InlineData(1.110, 0.998)]
    public void ReadingOfAFerment_ReturnsItsGravity(double original, double present)
    {
        var balance = MassBalance.Of(SpecificGravity.FromRatio(original), SpecificGravity.FromRatio(present));
        var shown = Refractometer.BrixShown(balance.Alcohol.Value, balance.RealExtract.Value);
        Assert.Equal(present, Refractometer.Of(SpecificGravity.FromRatio(original), shown).Present.Value.Value, 6);
    }
}
