using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Tests.Must;

public sealed class MustPlanTests
{
    private static readonly Sweetener Sugar = Sweetener.Of(SweetenerKind.Sucrose);

    // Balances of mass computed by another program.
    [Fact]
    public void SugarToRaiseAMust_Agrees() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity.StartsWith("sucrose to add to raise", StringComparison.Ordinal), rows: 4, independentRows: 0,
        row => MustPlan.ToRaise(Must(row), Target(row), Sugar)!.Value,
        independent: _ => false);

    [Fact]
    public void VolumeAfterIt_Agrees() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity == "volume after that addition", rows: 2, independentRows: 0,
        row => (Must(row) + Sugar.Amount(MustPlan.ToRaise(Must(row), Target(row), Sugar)!.Value)).Volume.Liters,
        independent: _ => false);

    [Fact]
    public void WaterToLowerAMust_Agrees() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv", row => row.Quantity == "water to add to lower Brix", rows: 2, independentRows: 0,
        row => MustPlan.ToLower(Must(row), Target(row))!.Value,
        independent: _ => false);

    [Fact]
    public void HoneyAndWater_HaveTheComputedGravity() => ReferenceCheck.AllAgree(
        "dissolution_volume.csv", row => row.Inputs.ContainsKey("honey_kg"), rows: 3, independentRows: 0,
        row => (Sweetener.Of(SweetenerKind.Honey, 100 * (1 - row.Input("honey_solids_fraction"))).Amount(row.Input("honey_kg")) + Liquid.Water(row.Input("water_kg"))).Gravity.Value);

    // Points of the honey table, independent of the equation, which is from memory.
    [Fact]
    public void WaterOfHoney_AgreesWithTheTable() => ReferenceCheck.AllAgree(
        "honey_moisture_refractive_index.csv", row => row.Inputs.ContainsKey("nD20") && row.Status == "confirmed", rows: HoneyRows, independentRows: HoneyRows,
        row => Honey.WaterPercent(row.Input("nD20"), Temperature.FromCelsius(20)).Value);

    // The table's worked example, 1.4820 at 32 °C, corrects the index to 1.48476 and then takes the next lower line, 1.4845: 20.8 %. Its
    // own neighboring lines, 1.4845 for 20.8 and 1.4855 for 20.4, interpolate to 20.70 there: that is what is held here.
    [Fact]
    public void WarmHoney_IsCorrectedTo20()
    {
        var example = Assert.Single(ReferenceTable.Read("honey_moisture_refractive_index.csv"), row => row.Inputs.ContainsKey("t_C"));
        Assert.Equal(20.8, example.ExpectedNumber);
        var water = Honey.WaterPercent(example.Input("n"), Temperature.FromCelsius(example.Input("t_C"))).Value;
        Assert.InRange(water, 20.70 - example.ToleranceNumber, 20.70 + example.ToleranceNumber);
    }

    // One row is a trade specification; the other four are from memory, a sanity check only.
    [Fact]
    public void GravityOfHoney_Agrees() => ReferenceCheck.AllAgree(
        "composition.csv", row => row.Inputs.ContainsKey("moisture"), rows: 5, independentRows: 1,
        row => Honey.GravityOf(row.Input("moisture")).Value.Value);

    [Fact]
    public void PlanOfAMust_MakesIt()
    {
        var honey = Sweetener.Of(SweetenerKind.Honey, 18);
        var plan = MustPlan.For(SpecificGravity.FromRatio(1.100), Volume.FromLiters(20), honey)!.Value;
        var must = honey.Amount(plan.SweetenerKilograms) + Liquid.Water(plan.WaterKilograms);
        Assert.Equal(1.100, must.Gravity.Value, 9);
        Assert.Equal(20, must.Volume.Liters, 7);
    }

    private const int HoneyRows = 27;

    private static Liquid Must(ReferenceRow row) => Liquid.OfMust(Volume.FromLiters(row.Input("volume_L")), GravityUnits.GravityOfBrix(row.Input("brix")));

    private static SpecificGravity Target(ReferenceRow row) => GravityUnits.GravityOfBrix(row.Input("target_brix"));
}
