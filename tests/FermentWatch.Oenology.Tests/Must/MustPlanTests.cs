using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

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

    // Two lines from memory, a sanity check only.
    [Fact]
    public void WaterOfHoneyFromMemory_IsNear() => ReferenceCheck.AllAgree(
        "honey_moisture_refractive_index.csv", row => row.Inputs.ContainsKey("nD20") && row.Status == "from-memory", rows: 2, independentRows: 0,
        row => Honey.WaterPercent(row.Input("nD20"), Temperature.FromCelsius(20)).Value);

    [Fact]
    public void IndexPerDegree_IsThatOfTheTable() => ReferenceCheck.AllAgree(
        "honey_moisture_refractive_index.csv", row => row.Quantity.StartsWith("temperature coefficient", StringComparison.Ordinal), rows: 1, independentRows: 0,
        _ => IndexPerDegree(),
        independent: _ => false);

    [Property(MaxTest = 300)]
    public Property SweetenerThatRaises_RaisesToTheTarget() => Prop.ForAll(
        Numbers.Between(1.0, 1.10).ToArbitrary(),
        Numbers.Between(0.001, 0.07).ToArbitrary(),
        Gen.Elements(Enum.GetValues<SweetenerKind>()).ToArbitrary(),
        (ratio, more, kind) =>
        {
            var (must, sweetener) = (OfLiters(20, ratio), Sweetener.Of(kind));
            var raised = must + sweetener.Amount(MustPlan.ToRaise(must, SpecificGravity.FromRatio(ratio + more), sweetener)!.Value);
            return Math.Abs(raised.Gravity.Value - ratio - more) < 1e-9;
        });

    // Raised with sugar and lowered with water: the water that takes the sugar's gravity away leaves the gravity of the start.
    [Property(MaxTest = 300)]
    public Property WaterThatLowers_LowersToTheTarget() => Prop.ForAll(
        Numbers.Between(1.05, 1.17).ToArbitrary(),
        Numbers.Between(0.001, 0.04).ToArbitrary(),
        (ratio, less) =>
        {
            var must = OfLiters(20, ratio);
            var lowered = must + Liquid.Water(MustPlan.ToLower(must, SpecificGravity.FromRatio(ratio - less))!.Value);
            return Math.Abs(lowered.Gravity.Value - ratio + less) < 1e-9 && Math.Abs(lowered.ExtractKilograms - must.ExtractKilograms) < 1e-12;
        });

    [Property(MaxTest = 300)]
    public Property PlanOfAnyMust_MakesItAndKeepsTheMass() => Prop.ForAll(
        Numbers.Between(1.03, 1.17).ToArbitrary(),
        Numbers.Between(1, 200).ToArbitrary(),
        Numbers.Between(0, 0.4).ToArbitrary(),
        (target, liters, share) =>
        {
            var juice = OfLiters(share * liters, 1.045);
            if (MustPlan.For(SpecificGravity.FromRatio(target), Volume.FromLiters(liters), Sugar, juice) is not { } plan)
            {
                return target < 1.045;
            }

            var must = juice + Sugar.Amount(plan.SweetenerKilograms) + Liquid.Water(plan.WaterKilograms);
            return Math.Abs(must.Gravity.Value - target) < 1e-9 && Math.Abs((must.Volume.Liters / liters) - 1) < 1e-9
                && Math.Abs(must.Kilograms - juice.Kilograms - plan.SweetenerKilograms - plan.WaterKilograms) < 1e-9;
        });

    [Property(MaxTest = 200)]
    public Property HigherTarget_NeedsMoreSugarAndLessWater() => Prop.ForAll(
        Numbers.Between(1.03, 1.16).ToArbitrary(),
        Numbers.Between(0.0005, 0.01).ToArbitrary(),
        (target, more) =>
        {
            var less = MustPlan.For(SpecificGravity.FromRatio(target), Volume.FromLiters(20), Sugar)!.Value;
            var rich = MustPlan.For(SpecificGravity.FromRatio(target + more), Volume.FromLiters(20), Sugar)!.Value;
            return rich.SweetenerKilograms > less.SweetenerKilograms && rich.WaterKilograms < less.WaterKilograms;
        });

    [Property(MaxTest = 200)]
    public Property WetterHoney_IsLighterAndBendsLightLess() => Prop.ForAll(
        Numbers.Between(13, 24).ToArbitrary(),
        Numbers.Between(0.0001, 0.002).ToArbitrary(),
        (water, index) => Honey.GravityOf(water + 0.5).Value < Honey.GravityOf(water).Value
            && Honey.WaterPercent(1.49 + index, Temperature.FromCelsius(20)).Value < Honey.WaterPercent(1.49, Temperature.FromCelsius(20)).Value);

    // What can't be made is no plan: too thin a sweetener, a must beyond the target, water for a must below it.
    [Fact]
    public void ImpossibleMust_IsNone()
    {
        var thin = Sweetener.Of(SweetenerKind.Syrup, brix: 20);
        Assert.Null(MustPlan.For(SpecificGravity.FromRatio(1.150), Volume.FromLiters(5), thin));
        Assert.Null(MustPlan.For(SpecificGravity.FromRatio(1.040), Volume.FromLiters(5), Sugar, OfLiters(5, 1.060)));
        Assert.Null(MustPlan.ToRaise(OfLiters(5, 1.060), SpecificGravity.FromRatio(1.050), Sugar));
        Assert.Null(MustPlan.ToRaise(OfLiters(5, 1.060), SpecificGravity.FromRatio(1.150), thin));
        Assert.Null(MustPlan.ToLower(OfLiters(5, 1.040), SpecificGravity.FromRatio(1.050)));
        Assert.Null(MustPlan.ToLower(OfLiters(5, 1.040), SpecificGravity.FromRatio(1.000)));
    }

    // The index at 30 °C that means the same water as one at 20 °C, by bisection.
    private static double IndexPerDegree()
    {
        var wanted = Honey.WaterPercent(1.4900, Temperature.FromCelsius(20)).Value;
        var (low, high) = (1.48, 1.49);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Honey.WaterPercent(middle, Temperature.FromCelsius(30)).Value > wanted ? (middle, high) : (low, middle);
        }

        return (1.4900 - low) / 10;
    }

    private static Liquid OfLiters(double liters, double ratio) => Liquid.OfMust(Volume.FromLiters(liters), SpecificGravity.FromRatio(ratio));

    private const int HoneyRows = 27;

    private static Liquid Must(ReferenceRow row) => Liquid.OfMust(Volume.FromLiters(row.Input("volume_L")), GravityUnits.GravityOfBrix(row.Input("brix")));

    private static SpecificGravity Target(ReferenceRow row) => GravityUnits.GravityOfBrix(row.Input("target_brix"));
}
