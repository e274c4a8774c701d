using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Density;

public sealed class HydrometerTests
{
    // The rows were computed from ISO 1768's expansion by another program: they check the arithmetic, and no row is independent of the equation.
    [Fact]
    public void ComputedRows_AgreeWithTheEquation() => ReferenceCheck.AllAgree(
        "hydrometer_temperature.csv",
        _ => true,
        rows: 68,
        independentRows: 0,
        row => Hydrometer.GravityOf(
            SpecificGravity.FromRatio(row.Input("reading_sg")),
            Temperature.FromCelsius(row.Input("calibration_C")),
            Temperature.FromCelsius(row.Input("t_C"))).Value.Value);

    [Fact]
    public void SampleAtTheCalibration_LeavesTheReading()
    {
        for (var points = 0; points <= 150; points += 10)
        {
            var reading = SpecificGravity.FromPoints(points);
            Assert.Equal(reading.Value, Hydrometer.GravityOf(reading, Temperature.FromCelsius(20), Temperature.FromCelsius(20)).Value.Value, 5);
        }
    }

    [Theory]
    [InlineData(1.080, 20, Validity.WithinSource)]
    [InlineData(0.994, 20, Validity.Extrapolated)]
    [InlineData(1.080, 45, Validity.Extrapolated)]
    public void BeyondMust_IsMarked(double reading, double celsius, Validity expected) => Assert.Equal(
        expected, Hydrometer.GravityOf(SpecificGravity.FromRatio(reading), Temperature.FromCelsius(20), Temperature.FromCelsius(celsius)).Validity);

    // Another program's model of wine: no published table was found, so no row is independent. The truth of each stands in its source.
    [Fact]
    public void ReadingInWine_AgreesWithTheModelOfAnotherProgram() => ReferenceCheck.AllAgree(
        "hydrometer_temperature_wine.csv",
        _ => true,
        rows: 10,
        independentRows: 0,
        row => Hydrometer.ReadingOf(TrueGravity(row), At(20), At(row.Input("t_C")), Alcohol(row)).Value.Value);

    [Fact]
    public void CorrectedWine_HasItsGravity() => Assert.All(ReferenceTable.Read("hydrometer_temperature_wine.csv"), row => Assert.Equal(
        TrueGravity(row).Value,
        Hydrometer.GravityOf(SpecificGravity.FromRatio(row.ExpectedNumber), At(20), At(row.Input("t_C")), Alcohol(row)).Value.Value,
        row.ToleranceNumber));

    [Property(MaxTest = 300)]
    public Property ReadingAndGravity_AreInverse() => Prop.ForAll(
        Numbers.Between(0.985, 1.17).ToArbitrary(),
        Numbers.Between(0, 40).ToArbitrary(),
        Numbers.Between(0, 18).ToArbitrary(),
        (ratio, celsius, percent) =>
        {
            var (gravity, alcohol) = (SpecificGravity.FromRatio(ratio), AlcoholByVolume.FromPercent(percent));
            var reading = Hydrometer.ReadingOf(gravity, At(15.56), At(celsius), alcohol).Value;
            return Math.Abs(Hydrometer.GravityOf(reading, At(15.56), At(celsius), alcohol).Value.Value - ratio) < 1e-9;
        });

    // From 10 °C on: near 4 °C water hardly expands, and the glass, which expands by 25e-6 a degree, floats higher.
    [Property(MaxTest = 300)]
    public Property WarmerLiquid_ShowsLess() => Prop.ForAll(
        Numbers.Between(0.99, 1.15).ToArbitrary(),
        Numbers.Between(10, 38).ToArbitrary(),
        Numbers.Between(0, 18).ToArbitrary(),
        (ratio, celsius, percent) =>
        {
            double Shown(double at) => Hydrometer.ReadingOf(SpecificGravity.FromRatio(ratio), At(20), At(at), AlcoholByVolume.FromPercent(percent)).Value.Value;
            return Shown(celsius + 1) < Shown(celsius);
        });

    // The stated size of what is missed when no alcohol is said: up to 0.0005 at 10 °C.
    [Theory]
    [InlineData(12)]
    [InlineData(14)]
    public void WineCorrectedAsMust_IsOffByUpToFiveTenThousandths(double percent)
    {
        var reading = SpecificGravity.FromRatio(0.994);
        var gap = Hydrometer.GravityOf(reading, At(20), At(10)).Value.Value
            - Hydrometer.GravityOf(reading, At(20), At(10), AlcoholByVolume.FromPercent(percent)).Value.Value;
        Assert.InRange(gap, 0.0002, 0.0010);
    }

    [Theory]
    [InlineData(0.994, 20, 12, Validity.WithinSource)]
    [InlineData(0.994, 20, 21, Validity.Extrapolated)]
    [InlineData(0.975, 20, 12, Validity.Extrapolated)]
    [InlineData(0.994, -1, 12, Validity.Extrapolated)]
    public void BeyondWine_IsMarked(double gravity, double celsius, double percent, Validity expected)
    {
        var reading = Hydrometer.ReadingOf(SpecificGravity.FromRatio(gravity), At(20), At(celsius), AlcoholByVolume.FromPercent(percent));
        Assert.Equal(expected, reading.Validity);
        Assert.Equal(0.0007, reading.Tolerance);
    }

    private static SpecificGravity TrueGravity(ReferenceRow row) => SpecificGravity.FromRatio(
        double.Parse(row.Source.Split("true SG20/20 = ")[1].TrimEnd(')'), System.Globalization.CultureInfo.InvariantCulture));

    private static AlcoholByVolume Alcohol(ReferenceRow row) => AlcoholByVolume.FromPercent(row.Input("abv_20C_percent"));

    private static Temperature At(double celsius) => Temperature.FromCelsius(celsius);
}
