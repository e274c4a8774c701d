using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class CarbonateTests
{
    // Reactions as listed by the Australian Wine Research Institute, turned into numbers by stoichiometry.
    [Fact]
    public void FallWithoutSettling_AgreesWithTheListedReactions() => ReferenceCheck.AllAgree(
        "malolactic-and-deacidification.csv",
        row => row.Quantity.StartsWith("TA drop per 1 g/L", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row => row.Input("dose_g_per_L") * Named(row.Quantity).FallWithoutSettling,
        _ => false);

    [Fact]
    public void CalciumCarbonateMasses_AreTheFallOverTheLimit() => ReferenceCheck.AllAgree(
        "malolactic-and-deacidification.csv",
        row => row.Quantity == "calcium carbonate mass",
        rows: 3,
        independentRows: 0,
        row => Carbonate.CalciumCarbonate.DoseFor(AcidRows.Tartaric(row.Input("ta_drop_g_per_L"))).Most.GramsIn(Volume.FromLiters(row.Input("volume_L"))),
        _ => false);

    // Bounds of the practice range, 0.67 to 1.34 g/L; printed values 0.9 and 1.0 lie between.
    [Fact]
    public void BicarbonateForOneGramOfAcid_LiesBetweenTheLimits()
    {
        var row = Assert.Single(ReferenceTable.Read("malolactic-and-deacidification.csv"), row => row.Quantity.StartsWith("potassium bicarbonate dose", StringComparison.Ordinal));
        var bounds = row.Expected.Split('-').Select(bound => double.Parse(bound, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        var (least, most) = Carbonate.PotassiumBicarbonate.DoseFor(AcidRows.Tartaric(row.Input("ta_drop_g_per_L")));
        Assert.Equal(bounds[0], least.GramsPerLiter, 0.006);
        Assert.Equal(bounds[1], most.GramsPerLiter, 0.006);
        Assert.InRange(0.9, least.GramsPerLiter, most.GramsPerLiter);
        Assert.InRange(1.0, least.GramsPerLiter, most.GramsPerLiter);
    }

    // The fall in the full model is the stoichiometric one, with and without tartrate settling: a balance of charges.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void FallInTheFittedModel_IsTheLimit(double settled)
    {
        var buffer = AcidBuffer.Fit(new(Ph.FromValue(3.2), AcidRows.Tartaric(8), AlcoholByVolume.FromPercent(12)), AcidProfile.GrapeWine)!;
        foreach (var carbonate in new[] { Carbonate.PotassiumBicarbonate, Carbonate.PotassiumCarbonate, Carbonate.CalciumCarbonate })
        {
            var after = buffer.After(carbonate.ChangeBy(MassConcentration.FromGramsPerLiter(0.8), settled));
            var fall = 8 - after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric);
            Assert.Equal(0.8 * (settled > 0 ? carbonate.FallWithSettling : carbonate.FallWithoutSettling), fall, 0.03);
            Assert.True(after.PhChange > 0, carbonate.Code);
        }
    }

    [Fact]
    public void Dose_GivesTheFallBack()
    {
        foreach (var carbonate in new[] { Carbonate.PotassiumBicarbonate, Carbonate.PotassiumCarbonate, Carbonate.CalciumCarbonate })
        {
            var (least, most) = carbonate.DoseFor(AcidRows.Tartaric(1.3));
            Assert.Equal(1.3, most.GramsPerLiter * carbonate.FallWithoutSettling, 1e-9);
            Assert.Equal(1.3, least.GramsPerLiter * carbonate.FallWithSettling, 1e-9);
            Assert.True(least.MilligramsPerLiter <= most.MilligramsPerLiter + 1e-6);
        }
    }

    [Fact]
    public void ShareOutsideNoneAndAll_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Carbonate.CalciumCarbonate.ChangeBy(MassConcentration.FromGramsPerLiter(1), 1.1));

    private static Carbonate Named(string text) => text switch
    {
        var one when one.Contains("bicarbonate", StringComparison.Ordinal) => Carbonate.PotassiumBicarbonate,
        var one when one.Contains("calcium", StringComparison.Ordinal) => Carbonate.CalciumCarbonate,
        _ => Carbonate.PotassiumCarbonate,
    };
}
