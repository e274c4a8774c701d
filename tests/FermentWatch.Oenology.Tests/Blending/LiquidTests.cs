using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
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

    // Wines without extract, by another program of [OIMLR22].
    [Fact]
    public void TwoStrengths_HaveTheVolumeAndAlcoholOfTheTable()
    {
        ReferenceCheck.AllAgree("blending_mass_balance.csv", row => row.Quantity == "volume of blend at 20 C", rows: 3, independentRows: 0, row => TwoStrengths(row).Volume.Liters);
        ReferenceCheck.AllAgree("blending_mass_balance.csv", row => row.Quantity.StartsWith("ABV of blend", StringComparison.Ordinal), rows: 2, independentRows: 0, row => TwoStrengths(row).Alcohol.Percent);
    }

    [Fact]
    public void BrixMixedByVolume_IsNotWhatTheSquareSays() => ReferenceCheck.AllAgree(
        "blending_mass_balance.csv",
        row => row.Quantity.StartsWith("Brix after mixing BY VOLUME", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => GravityUnits.BrixOf((Juice(row, "1") + Juice(row, "2")).Gravity),
        independent: _ => false);

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

    private static Liquid TwoStrengths(ReferenceRow row) => Strength(row, "1") + Strength(row, "2");

    private static Liquid Strength(ReferenceRow row, string place)
    {
        var alcohol = AlcoholByVolume.FromPercent(row.Input("abv" + place));
        return Liquid.Of(Volume.FromLiters(row.Input($"v{place}_L")), EthanolSolution.GravityOf(alcohol).Value, alcohol);
    }

    private static Liquid Juice(ReferenceRow row, string place) =>
        Liquid.OfMust(Volume.FromLiters(row.Input($"v{place}_mL") / 1000), GravityUnits.GravityOfBrix(row.Input("brix" + place)));
}
