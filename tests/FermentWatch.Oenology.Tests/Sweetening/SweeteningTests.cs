using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Tests.Sweetening;

public sealed class SweeteningTests
{
    // A balance of mass with a fixed volume of sugar, where ours comes from its density.
    [Fact]
    public void SugarToSweeten_AgreesWithTheBalance() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity.StartsWith("sucrose to back-sweeten", StringComparison.Ordinal), rows: 3, independentRows: 0,
        row => 1000 * SweeteningPlan.ToSugar(
            Liquid.Of(Volume.FromLiters(row.Input("volume_L")), SpecificGravity.FromRatio(0.993), AlcoholByVolume.FromPercent(12)),
            SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")),
            SugarConcentration.FromGramsPerLiter(row.Input("target_g_per_L")),
            Sweetener.Of(SweetenerKind.Sucrose))!.Value.Kilograms,
        independent: _ => false);

    [Fact]
    public void StillWords_AreThoseOfTheStandard()
    {
        var rows = ReferenceTable.Read("wine_sweetness_categories.csv").Where(row => row.Quantity == "EU still wine sweetness term").ToList();
        Assert.True(rows.Count >= 15);
        Assert.All(rows, row => Assert.Equal(
            row.Expected.Replace(" ", string.Empty, StringComparison.Ordinal),
            Sweetness.Of(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")), row.Input("total_acidity_g_per_L_tartaric")).ToString(),
            ignoreCase: true));
    }

    [Fact]
    public void SparklingWords_AreThoseOfTheRegulation()
    {
        var rows = ReferenceTable.Read("wine_sweetness_categories.csv").Where(row => row.Quantity.StartsWith("EU sparkling", StringComparison.Ordinal)).ToList();
        Assert.Equal(6, rows.Count);
        Assert.All(rows, row => Assert.Equal(
            row.Expected.Replace(" ", string.Empty, StringComparison.Ordinal).Replace("-", string.Empty, StringComparison.Ordinal),
            SparklingWords.Of(SugarConcentration.FromGramsPerLiter(row.Input("sugar_g_per_L")), row.Inputs["dosage_added"] == "yes").ToString(),
            ignoreCase: true));
    }

    [Fact]
    public void PearsonByMass_IsTheTextbookRule()
    {
        Assert.Equal((12.0, 41.0), PearsonSquare.Parts(65, 12, 24));
        Assert.Null(PearsonSquare.Parts(65, 12, 70));
    }
}
