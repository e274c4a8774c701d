using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class PotentialAlcoholTests
{
    [Fact]
    public void PublishedTable_Agrees() => ReferenceCheck.AllAgree(
        "potential_alcohol.csv", row => row.Source.StartsWith("AWRI", StringComparison.Ordinal), rows: 5, independentRows: 5,
        row => row.Quantity.StartsWith("lowest", StringComparison.Ordinal) ? At(row).Lowest.Percent : At(row).Highest.Percent);

    [Fact]
    public void AgreedFactor_Agrees() => ReferenceCheck.AllAgree(
        "potential_alcohol.csv", row => row.Quantity.Contains("16.83", StringComparison.Ordinal), rows: 6, independentRows: 0,
        row => At(row).Agreed.Percent,
        independent: _ => false);

    // The rows divide by the same published figure: they hold the arithmetic.
    [Fact]
    public void RoundFigure_Agrees() => ReferenceCheck.AllAgree(
        "potential_alcohol.csv", row => row.Quantity.Contains("17 g/L", StringComparison.Ordinal), rows: 3, independentRows: 0,
        row => PotentialAlcohol.ByRoundFigure(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L"))).Percent,
        independent: _ => false);

    // What the two figures mean as a yield, against the theory of 0.5114 g/g.
    [Theory]
    [InlineData("16.83", PotentialAlcohol.AgreedGramsPerLiter)]
    [InlineData("17 g/L", PotentialAlcohol.RoundGramsPerLiter)]
    public void YieldOfAFigure_Agrees(string figure, double grams)
    {
        var row = Assert.Single(ReferenceTable.Read("alcohol_relations.csv"), row => row.Quantity.StartsWith("ethanol yield implied by " + figure, StringComparison.Ordinal));
        ReferenceCheck.Near(row, row.Input("rho_ethanol_20C") / 100 / grams);
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(1.0 / 3)]
    [InlineData(0.9)]
    public void GravityOfAShareOfTheSugar_ReturnsTheShare(double share)
    {
        var original = SpecificGravity.FromRatio(1.100);
        Assert.Equal(share, SugarConsumed.Of(original, SugarConsumed.GravityAt(original, share).Value).Value, 8);
    }

    private static PotentialAlcohol At(ReferenceRow row) => PotentialAlcohol.Of(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")));
}
