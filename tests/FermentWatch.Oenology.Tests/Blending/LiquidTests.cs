using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Blending;

public sealed class LiquidTests
{
    // Computed by another program from [OIMLR22]: they check the contraction, and no row is independent of that formula.
    [Fact]
    public void EthanolAndWater_Contract() => ReferenceCheck.AllAgree(
        "mixing_contraction.csv",
        row => row.Unit == "mL",
        rows: 5,
        independentRows: 0,
        row => (Wine(row.Input("v_ethanol_mL"), 0.789239123 / 0.99820123, 100) + Wine(row.Input("v_water_mL"), 1, 0)).Volume.Liters);

    [Fact]
    public void EthanolAndWater_HaveTheStrengthByMass() => ReferenceCheck.AllAgree(
        "mixing_contraction.csv",
        row => row.Unit == "% vol",
        rows: 5,
        independentRows: 0,
        row => (Wine(row.Input("v_ethanol_mL"), 0.789239123 / 0.99820123, 100) + Wine(row.Input("v_water_mL"), 1, 0)).Alcohol.Percent);

    [Property(MaxTest = 200)]
    public Property ALiquidOfAVolume_HasThatVolumeGravityAndAlcohol() => Prop.ForAll(
        Numbers.Between(0.985, 1.15).ToArbitrary(),
        Numbers.Between(0, 20).ToArbitrary(),
        Numbers.Between(0.5, 500).ToArbitrary(),
        (gravity, alcohol, liters) =>
        {
            var liquid = Wine(liters, gravity, alcohol);
            return Math.Abs((liquid.Volume.Liters / liters) - 1) < 1e-9
                && Math.Abs(liquid.Gravity.Value - gravity) < 1e-9
                && Math.Abs(liquid.Alcohol.Percent - alcohol) < 1e-7;
        });

    [Property(MaxTest = 200)]
    public Property Blends_KeepEveryMassAndStandBetweenTheParts() => Prop.ForAll(
        Numbers.Between(0.99, 1.1).ToArbitrary(),
        Numbers.Between(0, 16).ToArbitrary(),
        Numbers.Between(0.1, 100).ToArbitrary(),
        (gravity, alcohol, liters) =>
        {
            var (one, other) = (Wine(liters, gravity, alcohol), Wine(10, 1.02, 8));
            var sum = one + other;
            return Math.Abs(sum.Kilograms - one.Kilograms - other.Kilograms) < 1e-9
                && Math.Abs(sum.EthanolKilograms - one.EthanolKilograms - other.EthanolKilograms) < 1e-9
                && sum.Alcohol.Percent >= Math.Min(alcohol, 8) - 0.05
                && sum.Alcohol.Percent <= Math.Max(alcohol, 8) + 0.05;
        });

    private static Liquid Wine(double liters, double gravity, double alcohol) =>
        Liquid.Of(Volume.FromLiters(liters), SpecificGravity.FromRatio(gravity), AlcoholByVolume.FromPercent(alcohol));
}
