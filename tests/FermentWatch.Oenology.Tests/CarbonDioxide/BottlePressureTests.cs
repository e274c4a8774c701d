using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.CarbonDioxide;

/// <summary>Pressure in closed bottles. The rows of refermentation were computed with the same balance: they test the transcription.</summary>
public sealed class BottlePressureTests
{
    [Fact]
    public void RefermentationFromDegassed_Agrees() => ReferenceCheck.AllAgree(
        "bottle-pressure.csv",
        row => row.Quantity == "gauge pressure after refermentation in a closed bottle",
        17,
        0,
        row => Bottle(row, "fill_temperature_C").TotalPressure(Gas(row, "sugar_refermented_g_per_L"), Celsius(row)).Value.GaugeBar,
        _ => false);

    [Fact]
    public void RefermentationFromSaturation_Agrees() => ReferenceCheck.AllAgree(
        "bottles-and-priming.csv",
        row => row.Quantity.Contains("wine saturated at fill", StringComparison.Ordinal),
        4,
        0,
        row => Bottle(row, null).GasPressure(Gas(row, "hexose_g_per_L"), Celsius(row)).Value.Bar);

    [Fact]
    public void TirageSugarAndTheRuleOfThumb_Agree() => ReferenceCheck.AllAgree(
        "bottles-and-priming.csv",
        row => row.Inputs.ContainsKey("sucrose_g_per_L") && row.Unit == "bar",
        5,
        0,
        row => Bottle(row, null).GasPressure(
            MassConcentration.FromGramsPerLiter(row.Input("sucrose_g_per_L") * CarbonDioxideYield.PerSucrose * (row.Inputs.ContainsKey("yield") ? row.Input("yield") : 1)),
            Celsius(row)).Value.Bar,
        _ => false);

    // The published 5-6 atm after disgorging, cool: by the formula 6.13 bar absolute of gas at 12 °C, with the whole yield of practice.
    [Fact]
    public void TirageSugarWhenCool_LiesNearThePublishedRange()
    {
        var text = ReferenceTable.Read("bottles-and-priming.csv").Single(row => row.Id == "CAR-bottles-and-priming-002").Expected;
        Assert.StartsWith("5-6 atm", text, StringComparison.Ordinal);
        var bottle = new ClosedBottle(0.02, Temperature.FromCelsius(12), AlcoholByVolume.FromPercent(12.5), default);
        Assert.InRange(bottle.GasPressure(MassConcentration.FromGramsPerLiter(24 * 0.95 * CarbonDioxideYield.PerSucrose), Temperature.FromCelsius(12)).Value.Bar / 1.01325, 5, 6.1);
    }

    [Fact]
    public void BaseWineUnderLittlePressure_HoldsThePublished() => ReferenceCheck.AllAgree(
        "bottles-and-priming.csv",
        row => row.Id == "CAR-bottles-and-priming-019",
        1,
        0,
        row => CarbonDioxideSolubility.Dissolved(Pressure.FromBar(row.Input("pressure_bar")), Celsius(row), AlcoholByVolume.FromPercent(row.Input("abv_percent")), default).Value.GramsPerLiter);

    [Property(MaxTest = 500)]
    public Property PressureAndGas_AreInverse() => Prop.ForAll(
        Numbers.Between(0.2, 15).ToArbitrary(),
        Numbers.Between(0, 30).ToArbitrary(),
        Numbers.Between(0, 0.2).ToArbitrary(),
        (grams, celsius, ratio) =>
        {
            var bottle = new ClosedBottle(ratio, Temperature.FromCelsius(20), AlcoholByVolume.FromPercent(12), default);
            var at = Temperature.FromCelsius(celsius);
            return Math.Abs(bottle.GasFor(bottle.TotalPressure(MassConcentration.FromGramsPerLiter(grams), at).Value, at).Value.GramsPerLiter - grams) < 1e-9;
        });

    // All gas is in wine and headspace: their sum, counted apart, is what went in.
    [Property(MaxTest = 300)]
    public Property GasOfWineAndHeadspace_IsAllTheGas() => Prop.ForAll(
        Numbers.Between(0.2, 12).ToArbitrary(),
        Numbers.Between(0, 30).ToArbitrary(),
        Numbers.Between(0.001, 0.3).ToArbitrary(),
        (grams, celsius, ratio) =>
        {
            var (at, alcohol) = (Temperature.FromCelsius(celsius), AlcoholByVolume.FromPercent(11));
            var pressure = new ClosedBottle(ratio, at, alcohol, default).GasPressure(MassConcentration.FromGramsPerLiter(grams), at).Value;
            var inWine = CarbonDioxideSolubility.Dissolved(pressure, at, alcohol, default).Value.GramsPerLiter;
            var inHeadspace = ratio * pressure.Bar * CarbonDioxideYield.MolarMassGrams / (0.08314462618 * at.Kelvin);
            return Math.Abs(inWine + inHeadspace - grams) < 1e-9;
        });

    [Property(MaxTest = 300)]
    public Property MoreSugarOrWarmer_MorePressure() => Prop.ForAll(
        Numbers.Between(0, 20).ToArbitrary(),
        Numbers.Between(0, 29).ToArbitrary(),
        (sugar, celsius) => Gauge(sugar + 0.1, celsius) > Gauge(sugar, celsius) && Gauge(sugar, celsius + 1) > Gauge(sugar, celsius));

    // Seen in the cautions: from saturation 1 bar and more with no sugar at all when cold wine is warmed.
    [Fact]
    public void SaturatedCold_ThenWarm_HasPressureWithoutSugar()
    {
        var (alcohol, cold) = (AlcoholByVolume.FromPercent(12), Temperature.FromCelsius(12));
        var start = StartingGas.Of(null, false, cold, alcohol, default);
        Assert.Equal(1.9, start.Value.GramsPerLiter, 0.05);
        Assert.InRange(new ClosedBottle(0.03, Temperature.FromCelsius(20), alcohol, default).TotalPressure(start.Value, Temperature.FromCelsius(20)).Value.GaugeBar, 1, 1.4);
    }

    [Fact]
    public void StartingGas_MeasuredBeforeDegassedBeforeSaturation()
    {
        var (alcohol, at) = (AlcoholByVolume.FromPercent(12), Temperature.FromCelsius(20));
        Assert.Equal(0.9, StartingGas.Of(MassConcentration.FromGramsPerLiter(0.9), true, at, alcohol, default).Value.GramsPerLiter, 12);
        Assert.Equal(0.5, StartingGas.Of(null, true, at, alcohol, default).Value.GramsPerLiter, 12);
        Assert.Equal(1.463, StartingGas.Of(null, false, at, alcohol, default).Value.GramsPerLiter, 0.001);
    }

    [Fact]
    public void MalicAcid_GivesItsShareOfGas()
    {
        // 2 g/L of malic acid still give 0.66 g/L of gas.
        Assert.Equal(0.66, ClosedBottle.AfterRefermentation(default, default, 2).GramsPerLiter, 0.005);
        Assert.Equal(0.5 + 0.4886, ClosedBottle.AfterRefermentation(MassConcentration.FromGramsPerLiter(0.5), SugarConcentration.FromGramsPerLiter(1), 0).GramsPerLiter, 0.0005);
    }

    // Bounds of the law, written in the rows as figure or range.
    [Theory]
    [InlineData(0.99, SparklingClass.Still)]
    [InlineData(1.0, SparklingClass.SemiSparkling)]
    [InlineData(2.5, SparklingClass.SemiSparkling)]
    [InlineData(2.6, SparklingClass.BetweenClasses)]
    [InlineData(3.0, SparklingClass.Sparkling)]
    [InlineData(3.5, SparklingClass.QualitySparkling)]
    public void Pressure_FallsIntoItsClass(double bar, SparklingClass expected)
    {
        var rows = ReferenceTable.Read("bottle-pressure.csv").ToDictionary(row => row.Id, row => row.Expected);
        Assert.Equal(("3.0", "3.5", "1.0-2.5"), (rows["CAR-bottle-pressure-024"], rows["CAR-bottle-pressure-025"], rows["CAR-bottle-pressure-026"]));
        Assert.Equal(expected, SparklingClasses.Of(bar));
        Assert.NotEmpty(SparklingClasses.Words(expected).ToString());
    }

    private static double Gauge(double sugar, double celsius) => new ClosedBottle(0.03, Temperature.FromCelsius(20), AlcoholByVolume.FromPercent(12), default)
        .TotalPressure(ClosedBottle.AfterRefermentation(MassConcentration.FromGramsPerLiter(0.5), SugarConcentration.FromGramsPerLiter(sugar), 0), Temperature.FromCelsius(celsius)).Value.GaugeBar;

    private static ClosedBottle Bottle(ReferenceRow row, string? filledAt) =>
        new(row.Input("headspace_fraction"), Temperature.FromCelsius(filledAt is null ? 20 : row.Input(filledAt)), AlcoholByVolume.FromPercent(row.Input("abv_percent")), default);

    private static MassConcentration Gas(ReferenceRow row, string sugar) =>
        ClosedBottle.AfterRefermentation(MassConcentration.FromGramsPerLiter(row.Input("initial_co2_g_per_L")), SugarConcentration.FromGramsPerLiter(row.Input(sugar)), 0);

    private static Temperature Celsius(ReferenceRow row) => Temperature.FromCelsius(row.Input("temperature_C"));
}
