using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfurDioxideDissociationTests
{
    // The table itself is what is shipped: this checks the copy.
    [Fact]
    public void OivTable_IsReproducedAtItsPoints() => ReferenceCheck.AllAgree(
        "pka-temperature-ethanol.csv",
        row => row.Source.StartsWith("OIV-MA-AS323-04C Table I ", StringComparison.Ordinal),
        rows: 20,
        independentRows: 0,
        row => SulfurDioxideDissociation.OivThermodynamic(Alcohol(row), At(row))!.Value,
        _ => false);

    [Fact]
    public void IonicStrength_IsTheOneOfTheMethod() => ReferenceCheck.AllAgree(
        "pka-temperature-ethanol.csv",
        row => row.Quantity.StartsWith("mean ionic strength", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        _ => SulfurDioxideDissociation.OivIonicStrength,
        _ => false);

    // From memory: a sanity check of the activity correction.
    [Fact]
    public void MixedConstant_AgreesWithRememberedValues() => ReferenceCheck.AllAgree(
        "pka-temperature-ethanol.csv",
        row => row.Quantity.StartsWith("mixed pKM", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => SulfurDioxideDissociation.Oiv(Alcohol(row), At(row))!.Value);

    // The same constant and enthalpy, worked out by another program.
    [Fact]
    public void ConstantInWater_AgreesWithThermodynamicData() => ReferenceCheck.AllAgree(
        "pka-temperature-ethanol.csv",
        row => row.Quantity.StartsWith("thermodynamic pKa1 of SO2(aq)", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => SulfurDioxideDissociation.InWater(At(row)).Value.Value,
        _ => false);

    [Theory]
    [InlineData(12, 19.9)]
    [InlineData(12, 40.1)]
    [InlineData(15.1, 20)]
    public void OutsideTheOivTable_ThereIsNoValue(double alcohol, double celsius)
    {
        Assert.Null(SulfurDioxideDissociation.OivThermodynamic(AlcoholByVolume.FromPercent(alcohol), Temperature.FromCelsius(celsius)));
        Assert.Null(SulfurDioxideDissociation.Oiv(AlcoholByVolume.FromPercent(alcohol), Temperature.FromCelsius(celsius)));
    }

    [Fact]
    public void BetweenThePoints_TheValueLiesBetweenThem()
    {
        for (var alcohol = 0.0; alcohol <= 15; alcohol += 0.5)
        {
            for (var celsius = 20.0; celsius < 40; celsius += 0.5)
            {
                var here = SulfurDioxideDissociation.OivThermodynamic(AlcoholByVolume.FromPercent(alcohol), Temperature.FromCelsius(celsius))!.Value;
                var warmer = SulfurDioxideDissociation.OivThermodynamic(AlcoholByVolume.FromPercent(alcohol), Temperature.FromCelsius(celsius + 0.5))!.Value;
                var stronger = SulfurDioxideDissociation.OivThermodynamic(AlcoholByVolume.FromPercent(Math.Min(15, alcohol + 0.5)), Temperature.FromCelsius(celsius))!.Value;
                Assert.True(warmer > here && stronger >= here);
            }
        }
    }

    // The fixed value asks for more sulfite than the table of OIV at every point: it errs toward protection.
    [Fact]
    public void FixedValue_IsBelowTheOivTableExceptInWaterAtTwentyDegrees()
    {
        Assert.Equal(1.81, SulfurDioxideDissociation.Usual);
        Assert.True(SulfurDioxideDissociation.Oiv(AlcoholByVolume.FromPercent(10), Temperature.FromCelsius(20)) > SulfurDioxideDissociation.Usual);
        Assert.InRange(SulfurDioxideDissociation.InWater(Temperature.FromCelsius(20)).Value.Value - SulfurDioxideDissociation.Usual, -0.01, 0.01);
        Assert.Equal(Validity.Extrapolated, SulfurDioxideDissociation.InWater(Temperature.FromCelsius(2)).Validity);
    }

    // Left out: at pH 4 the second dissociation makes less than 0.2 % of the free sulfite ion.
    [Fact]
    public void SecondDissociation_IsNegligibleBelowPhFour() =>
        Assert.InRange(Math.Pow(10, 4 - SulfurDioxideDissociation.Second), 0, 0.002);

    private static AlcoholByVolume Alcohol(ReferenceRow row) => AlcoholByVolume.FromPercent(row.Input("abv_percent"));

    private static Temperature At(ReferenceRow row) => Temperature.FromCelsius(row.Input("temperature_C"));
}
