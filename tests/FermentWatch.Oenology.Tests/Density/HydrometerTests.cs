using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

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
}
