using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Density;

public sealed class GravityUnitsTests
{
    [Property(MaxTest = 500)]
    public Property EveryUnitThereAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0.96, 1.44).ToArbitrary(),
        ratio =>
        {
            var gravity = SpecificGravity.FromRatio(ratio);
            return Near(GravityUnits.GravityOf(GravityUnits.DensityOf(gravity)), ratio)
                && Near(GravityUnits.GravityOf(GravityUnits.PlatoOf(gravity)), ratio)
                && Near(GravityUnits.GravityOfBrix(GravityUnits.BrixOf(gravity)), ratio)
                && Near(GravityUnits.GravityOfPoints(GravityUnits.PointsOf(gravity)), ratio);
        });

    // Water at 20 °C by [Tanaka2001] is 998.2067 kg/m³; the sugar rows are those of the 20 °C handbook table, [CRC102].
    [Theory]
    [InlineData(998.2067, 1.0)]
    [InlineData(1017.8, 1.01963)]
    [InlineData(1207.9, 1.21007)]
    public void DensityAt20Celsius_IsDividedByThatOfWater(double density, double ratio) => Assert.Equal(
        ratio,
        GravityUnits.GravityOf(FermentWatch.Oenology.Quantities.Density.FromKilogramsPerCubicMeter(density)).Value,
        5);

    [Theory]
    [InlineData(90, 1.090)]
    [InlineData(-4, 0.996)]
    [InlineData(0, 1.000)]
    public void Points_AreThousandthsAboveWater(double points, double ratio) =>
        Assert.Equal(ratio, GravityUnits.GravityOfPoints(points).Value, 12);

    [Fact]
    public void BrixBeyondTheScale_NamesValueAndBounds()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => GravityUnits.GravityOfBrix(90));
        Assert.Contains("extract is 90 °Bx; it must be from -12 to 85 °Bx.", fault.Message, StringComparison.Ordinal);
    }

    private static bool Near(SpecificGravity gravity, double ratio) => Math.Abs(gravity.Value - ratio) < 1e-9;
}
