using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Nutrients;

public sealed class NutrientTests
{
    [Fact]
    public void NitrogenOfTheSalt_Agrees() => ReferenceCheck.AllAgree(
        "yan-and-dap.csv", row => row.Inputs.ContainsKey("dose_g_per_L"), rows: 3, independentRows: 0,
        row => DiammoniumPhosphate.MilligramsNitrogenPerLiter(row.Input("dose_g_per_L")),
        independent: _ => false);

    [Fact]
    public void SaltForALack_Agrees() => ReferenceCheck.AllAgree(
        "yan-and-dap.csv", row => row.Inputs.ContainsKey("n_deficit_mg_per_L"), rows: 2, independentRows: 0,
        row => DiammoniumPhosphate.GramsFor(row.Input("n_deficit_mg_per_L"), Volume.FromLiters(row.Input("volume_L"))),
        independent: _ => false);

    [Fact]
    public void AdiabaticRise_Agrees() => ReferenceCheck.AllAgree(
        "heat-and-temperature.csv", row => row.Inputs.ContainsKey("sugar_fermented_g_per_L"), rows: 3, independentRows: 0,
        row => FermentationHeat.RiseKelvin(SugarConcentration.FromGramsPerLiter(row.Input("sugar_fermented_g_per_L")), row.Input("heat_capacity_kJ_per_L_K")).Value);

    [Theory]
    [InlineData(1.050)]
    [InlineData(1.100)]
    [InlineData(1.160)]
    public void FourMarks_GiveEverythingBeforeAThird(double original)
    {
        var gravity = SpecificGravity.FromRatio(original);
        var plan = NutrientPlan.For(gravity, gravity, 4, 24, 20, 12);
        Assert.Equal(["onset", "climb", "swell", "third"], plan.Marks.Select(mark => mark.Code));
        Assert.Equal(20, plan.Marks.Sum(mark => mark.InorganicGrams), 9);
        Assert.Equal(12, plan.Marks.Sum(mark => mark.OrganicGrams), 9);
        Assert.All(plan.Marks, mark => Assert.InRange(mark.SugarConsumed, 0, 0.3334));
        Assert.Equal(plan.Marks.OrderByDescending(mark => mark.Gravity.Value).Select(mark => mark.Code), plan.Marks.Select(mark => mark.Code));
    }

    [Fact]
    public void PastAThird_NothingInorganicIsGiven()
    {
        var plan = NutrientPlan.For(SpecificGravity.FromRatio(1.100), SpecificGravity.FromRatio(1.040), 4, 24, 20, 12);
        Assert.True(plan.InorganicIsLate);
        Assert.Equal(0, plan.Marks.Sum(mark => mark.InorganicGrams));
        Assert.Equal(12, plan.Marks.Sum(mark => mark.OrganicGrams));
    }
}
