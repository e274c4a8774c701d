using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Density;

public sealed class WaterTests
{
    [Fact]
    public void PublishedRows_AgreeWithTheEquation() => ReferenceCheck.AllAgree(
        "water_density.csv",
        _ => true,
        rows: 18,
        independentRows: 0,
        row => Water.DensityAt(Temperature.FromCelsius(row.Input("t_C"))).Value.KilogramsPerCubicMeter);

    // [Kell1975], °C on IPTS-68, which differs from ITS-90 by less than 0.01 °C here. The denominator 16.879850e-3 is confirmed (one copy
    // prints 16.897850e-3), the other coefficients are from memory; a slip in any of them would show as more than the stated error.
    [Fact]
    public void IndependentEquationOfKell_AgreesWithinTheStatedError()
    {
        for (var t = 0.0; t <= 40; t += 0.5)
        {
            var kell = (999.83952 + (16.945176 * t) - (7.9870401e-3 * t * t) - (46.170461e-6 * t * t * t)
                + (105.56302e-9 * Math.Pow(t, 4)) - (280.54253e-12 * Math.Pow(t, 5))) / (1 + (16.879850e-3 * t));
            var ours = Water.DensityAt(Temperature.FromCelsius(t));
            Assert.InRange(ours.Value.KilogramsPerCubicMeter - kell, -ours.Tolerance, ours.Tolerance);
        }
    }

    [Fact]
    public void ConstantAt20Celsius_IsTheEquationAt20Celsius() => Assert.Equal(
        Water.KilogramsPerCubicMeterAt20Celsius,
        Water.DensityAt(Temperature.FromCelsius(20)).Value.KilogramsPerCubicMeter,
        4);

    [Theory]
    [InlineData(-0.1, Validity.Extrapolated)]
    [InlineData(0, Validity.WithinSource)]
    [InlineData(40, Validity.WithinSource)]
    [InlineData(40.1, Validity.Extrapolated)]
    [InlineData(-40, Validity.Extrapolated)]
    [InlineData(150, Validity.Extrapolated)]
    public void TemperatureBeyondTheSource_IsMarked(double celsius, Validity expected) =>
        Assert.Equal(expected, Water.DensityAt(Temperature.FromCelsius(celsius)).Validity);
}
