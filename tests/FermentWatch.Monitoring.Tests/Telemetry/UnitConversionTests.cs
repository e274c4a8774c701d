using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class UnitConversionTests
{
    [Fact]
    public void GravityRows_AreReproduced()
    {
        var rows = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "telemetry", "gravity-units.csv"))
            .Where(line => line.Length > 0 && line[0] != '#')
            .Skip(1)
            .Select(line => line.Split(','))
            .ToList();
        Assert.True(rows.Count >= 40, $"Only {rows.Count} rows were read.");
        foreach (var row in rows)
        {
            var unit = Enum.Parse<MeasurementUnit>(row[1]);
            var expected = double.Parse(row[3], CultureInfo.InvariantCulture);
            var tolerance = double.Parse(row[4], CultureInfo.InvariantCulture);
            var gravity = UnitConversion.ToCanonical(double.Parse(row[2], CultureInfo.InvariantCulture), unit);
            Assert.True(Math.Abs(gravity - expected) <= tolerance, $"{row[0]}: {gravity} instead of {expected} ± {tolerance}.");
        }
    }

    [Theory]
    // Points: by definition, thousandths above water.
    [InlineData(90, MeasurementUnit.GravityPoints, 1.09)]
    [InlineData(-4, MeasurementUnit.GravityPoints, 0.996)]
    // The Fahrenheit and kelvin scales against the Celsius scale: NIST Special Publication 811 (2008), appendix B.8.
    [InlineData(32, MeasurementUnit.DegreesFahrenheit, 0)]
    [InlineData(68, MeasurementUnit.DegreesFahrenheit, 20)]
    [InlineData(-40, MeasurementUnit.DegreesFahrenheit, -40)]
    [InlineData(212, MeasurementUnit.DegreesFahrenheit, 100)]
    [InlineData(273.15, MeasurementUnit.Kelvin, 0)]
    [InlineData(293.15, MeasurementUnit.Kelvin, 20)]
    // The bar is 100 kPa: the same appendix.
    [InlineData(1.5, MeasurementUnit.Bar, 150)]
    // Kept as sent.
    [InlineData(1.09, MeasurementUnit.SpecificGravity, 1.09)]
    [InlineData(21.5, MeasurementUnit.DegreesCelsius, 21.5)]
    [InlineData(12, MeasurementUnit.PulsesPerMinute, 12)]
    [InlineData(3.4, MeasurementUnit.PH, 3.4)]
    [InlineData(5, MeasurementUnit.Kilopascals, 5)]
    [InlineData(3.7, MeasurementUnit.Volts, 3.7)]
    [InlineData(80, MeasurementUnit.Percent, 80)]
    [InlineData(-67, MeasurementUnit.DecibelMilliwatts, -67)]
    [InlineData(900, MeasurementUnit.PartsPerMillion, 900)]
    public void Number_IsConverted(double raw, MeasurementUnit unit, double value) =>
        Assert.Equal(value, UnitConversion.ToCanonical(raw, unit), 1e-9);

    [Fact]
    public void EveryUnit_HasOneQuantityAndARange()
    {
        foreach (var unit in Enum.GetValues<MeasurementUnit>())
        {
            Assert.Contains(unit, UnitConversion.UnitsOf(UnitConversion.QuantityOf(unit)));
            Assert.True(UnitConversion.LowestPlausible(unit) < UnitConversion.HighestPlausible(unit));
            Assert.True(double.IsFinite(UnitConversion.ToCanonical(UnitConversion.LowestPlausible(unit), unit)));
            Assert.True(double.IsFinite(UnitConversion.ToCanonical(UnitConversion.HighestPlausible(unit), unit)));
            Assert.False(UnitConversion.IsPlausible(double.NaN, unit));
            Assert.False(UnitConversion.IsPlausible(double.PositiveInfinity, unit));
        }

        foreach (var quantity in Enum.GetValues<QuantityKind>())
        {
            Assert.NotEmpty(UnitConversion.UnitsOf(quantity));
        }
    }

    [Theory]
    [InlineData(MeasurementUnit.DegreesCelsius, 85, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.DegreesCelsius, -127, DecodeReasons.ValueImplausible)]
    [InlineData(MeasurementUnit.DegreesCelsius, 68, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.DegreesCelsius, 293.15, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.GravityPoints, 1012, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.KilogramsPerCubicMeter, 1.012, DecodeReasons.ValueFitsFourUnits)]
    [InlineData(MeasurementUnit.DegreesPlato, 90, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.PH, 0, DecodeReasons.ValueImplausible)]
    [InlineData(MeasurementUnit.Bar, 101.3, DecodeReasons.ValueFitsOtherUnit)]
    [InlineData(MeasurementUnit.PartsPerMillion, 0, DecodeReasons.ValueImplausible)]
    public void NumberOfAnotherUnit_IsNotTaken(MeasurementUnit unit, double raw, string code)
    {
        Assert.False(Plausibility.TryAccept(raw, unit, out var why));
        Assert.Equal(code, why.Code);
    }
}
