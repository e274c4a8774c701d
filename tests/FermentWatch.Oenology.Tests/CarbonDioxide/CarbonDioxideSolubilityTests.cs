using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.CarbonDioxide;

/// <summary>Dissolved gas: rows 001 to 014 test the transcription of the method, 016 to 020 (a geochemistry code) are independent.</summary>
public sealed class CarbonDioxideSolubilityTests
{
    // Row 001 ff. name 'formula' in their source and count as not independent.
    [Fact]
    public void MethodOfAnalysisAt20Celsius_Agrees() => ReferenceCheck.AllAgree(
        "solubility.csv", row => row.Quantity == "dissolved CO2 at equilibrium, 20 C", 8, 0, row => Grams(row, row.Input("co2_pressure_bar_abs"), row.Input("temperature_C")));

    [Fact]
    public void VolumesOfTheMethod_Agree() => ReferenceCheck.AllAgree(
        "solubility.csv",
        row => row.Quantity.StartsWith("dissolved CO2 in volumes", StringComparison.Ordinal),
        2,
        0,
        row => CarbonDioxideSolubility.VolumesOf(MassConcentration.FromGramsPerLiter(Grams(row, row.Input("co2_pressure_bar_abs"), 20))));

    // Independent: PHREEQC, in grams for a kilogram of water.
    [Fact]
    public void WaterByAGeochemistryCode_Agrees() => ReferenceCheck.AllAgree(
        "solubility.csv",
        row => row.Unit == "g/kg water",
        4,
        4,
        row => CarbonDioxideSolubility.Dissolved(Pressure.Atmosphere, Celsius(row.Input("temperature_C")), default, default).Value.GramsPerLiter
            * 1000 / FermentWatch.Oenology.Density.Water.DensityAt(Celsius(row.Input("temperature_C"))).Value.KilogramsPerCubicMeter);

    [Fact]
    public void CoefficientOfBaseWineByTemperature_Agrees() => ReferenceCheck.AllAgree(
        "solubility.csv",
        row => row.Unit == "g/(L bar)",
        4,
        0,
        row => Grams(row, 1, row.Input("temperature_C")),
        _ => false);

    // Measured, but the slope by temperature and the total were fitted to them: not counted as independent.
    [Fact]
    public void PressureInSealedBottles_AgreesWithTheMeasured() => ReferenceCheck.AllAgree(
        "solubility.csv",
        row => row.Quantity == "CO2 pressure in a sealed standard sparkling bottle",
        2,
        0,
        row => new ClosedBottle(row.Input("headspace_fraction"), Celsius(20), Alcohol(row), Sugar(row))
            .GasPressure(MassConcentration.FromGramsPerLiter(row.Input("total_co2_g_per_L")), Temperature.FromKelvin(row.Input("temperature_K"))).Value.Bar,
        _ => false);

    [Property(MaxTest = 500)]
    public Property PressureAndDissolved_AreInverse() => Prop.ForAll(
        Numbers.Between(0.05, 8).ToArbitrary(),
        Numbers.Between(-5, 40).ToArbitrary(),
        Numbers.Between(0, 25).ToArbitrary(),
        (bar, celsius, percent) =>
        {
            var (at, alcohol, sugar) = (Celsius(celsius), AlcoholByVolume.FromPercent(percent), SugarConcentration.FromGramsPerLiter(10 * percent));
            var back = CarbonDioxideSolubility.PressureOf(CarbonDioxideSolubility.Dissolved(Pressure.FromBar(bar), at, alcohol, sugar).Value, at, alcohol, sugar);
            return Math.Abs(back.Value.Bar - bar) < 1e-9;
        });

    [Property(MaxTest = 300)]
    public Property WarmerStrongerSweeter_HoldsLess() => Prop.ForAll(
        Numbers.Between(0, 28).ToArbitrary(),
        Numbers.Between(0, 14).ToArbitrary(),
        Numbers.Between(0, 140).ToArbitrary(),
        (celsius, percent, sugar) =>
        {
            var here = Saturation(celsius, percent, sugar);
            return Saturation(celsius + 1, percent, sugar) < here && Saturation(celsius, percent + 1, sugar) < here && Saturation(celsius, percent, sugar + 5) < here;
        });

    [Fact]
    public void BeyondTheSource_IsMarked()
    {
        Assert.Equal(Validity.WithinSource, Held(30, 15, 150).Validity);
        Assert.Equal(Validity.Extrapolated, Held(30.1, 15, 150).Validity);
        Assert.Equal(Validity.Extrapolated, Held(-0.1, 15, 150).Validity);
        Assert.Equal(Validity.Extrapolated, Held(30, 15.1, 150).Validity);
        Assert.Equal(Validity.Extrapolated, Held(30, 15, 151).Validity);
        Assert.Equal(Validity.Extrapolated, CarbonDioxideSolubility.Dissolved(Pressure.FromBar(8.1), Celsius(20), default, default).Validity);
        Assert.Equal(0.06 * 1463, Held(20, 12, 0).Tolerance, 1.0);
    }

    [Fact]
    public void Volumes_ThereAndBack() => Assert.Equal(2.5, CarbonDioxideSolubility.VolumesOf(CarbonDioxideSolubility.OfVolumes(2.5)), 12);

    private static double Saturation(double celsius, double percent, double sugar) => Held(celsius, percent, sugar).Value.GramsPerLiter;

    private static Computed<MassConcentration> Held(double celsius, double percent, double sugar) =>
        CarbonDioxideSolubility.Saturation(Celsius(celsius), AlcoholByVolume.FromPercent(percent), SugarConcentration.FromGramsPerLiter(sugar));

    private static double Grams(ReferenceRow row, double bar, double celsius) =>
        CarbonDioxideSolubility.Dissolved(Pressure.FromBar(bar), Celsius(celsius), Alcohol(row), Sugar(row)).Value.GramsPerLiter;

    private static AlcoholByVolume Alcohol(ReferenceRow row) => AlcoholByVolume.FromPercent(row.Input("abv_percent"));

    private static SugarConcentration Sugar(ReferenceRow row) => SugarConcentration.FromGramsPerLiter(row.Inputs.ContainsKey("sugar_g_per_L") ? row.Input("sugar_g_per_L") : 0);

    private static Temperature Celsius(double celsius) => Temperature.FromCelsius(celsius);
}
