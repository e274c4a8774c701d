using FermentWatch.Oenology.Bottling;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Bottling;

public sealed class BottleFillTests
{
    // Computed by hand.
    [Theory]
    [InlineData(20, 0.02, 750, 26, 100)]
    [InlineData(4.5, 0, 750, 6, 0)]
    [InlineData(0.7, 0, 750, 0, 700)]
    [InlineData(0.75, 0, 750, 1, 0)]
    public void Volume_FillsSoManyBottles(double liters, double loss, double size, int full, double last)
    {
        var fill = BottleFill.Of(Volume.FromLiters(liters), loss, size, 15);
        Assert.Equal(full, fill.FullBottles);
        Assert.Equal(last, fill.LastMilliliters, 1e-6);
        Assert.Equal(15 / size, fill.HeadspaceRatio, 12);
    }

    // Nothing is made or lost: bottles, last bottle and loss are the volume.
    [Property(MaxTest = 500)]
    public Property BottlesLastAndLoss_AreTheVolume() => Prop.ForAll(
        Numbers.Between(0.5, 500).ToArbitrary(),
        Numbers.Between(0, 0.5).ToArbitrary(),
        Numbers.Between(100, 5000).ToArbitrary(),
        (liters, loss, size) =>
        {
            var fill = BottleFill.Of(Volume.FromLiters(liters), loss, size, 0);
            var all = (((fill.FullBottles * size) + fill.LastMilliliters) / 1000) + fill.Lost.Liters;
            return Math.Abs(all - liters) <= 0.001 + 1e-9 && fill.LastMilliliters < size;
        });

    [Fact]
    public void ImpossibleLossOrBottle_Throws()
    {
        var volume = Volume.FromLiters(10);
        Assert.Throws<ArgumentOutOfRangeException>(() => BottleFill.Of(volume, 1, 750, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BottleFill.Of(volume, -0.1, 750, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BottleFill.Of(volume, 0, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => BottleFill.Of(volume, 0, 750, -1));
    }

    // From memory: half percent in the European Union, a tenth in the United States, where 14 % is not crossed by rounding.
    [Theory]
    [InlineData(12.74, Law.Eu, 12.5, 0.5)]
    [InlineData(12.75, Law.Oiv, 13.0, 0.5)]
    [InlineData(12.2, Law.Strictest, 12.0, 0.5)]
    [InlineData(12.74, Law.Us, 12.7, 1.5)]
    [InlineData(14.02, Law.Us, 14.1, 1)]
    [InlineData(13.98, Law.Us, 14, 1.5)]
    public void Alcohol_IsRoundedByTheLaw(double percent, Law law, double printed, double tolerance)
    {
        var label = AlcoholOnLabel.Of(AlcoholByVolume.FromPercent(percent), law);
        Assert.Equal(printed, label.Percent, 9);
        Assert.Equal(tolerance, label.TolerancePercent);
    }

    [Property(MaxTest = 300)]
    public Property PrintedAlcohol_IsWithinItsTolerance() => Prop.ForAll(
        Numbers.Between(0, 25).ToArbitrary(),
        Gen.Elements(Enum.GetValues<Law>()).ToArbitrary(),
        (percent, law) =>
        {
            var label = AlcoholOnLabel.Of(AlcoholByVolume.FromPercent(percent), law);
            return Math.Abs(label.Percent - percent) <= label.TolerancePercent;
        });

    // 27 CFR 4.32(e): from 10 mg/L; the row of the table says the same.
    [Theory]
    [InlineData(9.9, false)]
    [InlineData(10.0, true)]
    [InlineData(null, true)]
    public void Sulfites_AreNamedFromTenMilligramsOrWhenUnknown(double? total, bool named)
    {
        Assert.Equal(10, ReferenceTable.Read("legal-limits.csv").Single(row => row.Id == "LIM-legal-limits-010").ExpectedNumber);
        var lines = LabelText.Lines(Facts with { TotalSulfite = total is { } known ? MassConcentration.FromMilligramsPerLiter(known) : null });
        Assert.Equal(named, lines.Contains("Contains sulfites"));
    }

    [Fact]
    public void FiningsAndHoney_AreNamed()
    {
        Assert.Equal(
            ["12.5 % vol", "750 mL", "Contains sulfites", "Contains egg, milk, fish", "Made from honey: not for infants", "Home-made. Not for sale"],
            LabelText.Lines(Facts with { Egg = true, Milk = true, Fish = true, Honey = true }));
        Assert.Equal(["12.5 % vol", "750 mL", "Contains sulfites", "Home-made. Not for sale"], LabelText.Lines(Facts));
        Assert.Contains("Contains milk", LabelText.Lines(Facts with { Milk = true }));
    }

    private static LabelFacts Facts { get; } = new() { Alcohol = AlcoholByVolume.FromPercent(12.6), Law = Law.Eu, Milliliters = 750, TotalSulfite = MassConcentration.FromMilligramsPerLiter(60) };
}
