using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.CarbonDioxide;

public sealed class FermentationGasTests
{
    // Yields from the atomic masses, as computed elsewhere.
    [Theory]
    [InlineData("CAR-gas-yield-001", CarbonDioxideYield.PerHexose)]
    [InlineData("CAR-gas-yield-002", CarbonDioxideYield.PerSucrose)]
    [InlineData("CAR-gas-yield-003", CarbonDioxideYield.EthanolPerHexose)]
    public void YieldOfSugar_Agrees(string id, double ours)
    {
        var row = ReferenceTable.Read("gas-yield.csv").Single(one => one.Id == id);
        Assert.Equal(row.ExpectedNumber, ours, row.ToleranceNumber);
    }

    [Fact]
    public void GasOfAKilogram_Agrees() => ReferenceCheck.AllAgree(
        "gas-yield.csv",
        row => row.Quantity == "CO2 gas volume per kg hexose fermented",
        2,
        0,
        row => Gas(1, 1000, row.Input("temperature_C")),
        _ => false);

    [Fact]
    public void GasOfABatch_Agrees() => ReferenceCheck.AllAgree(
        "gas-yield.csv", row => row.Quantity == "CO2 released by one batch", 2, 0, row => Gas(row.Input("volume_L"), row.Input("sugar_g_per_L"), 20));

    [Fact]
    public void ShareOfARoom_Agrees() => ReferenceCheck.AllAgree(
        "gas-yield.csv",
        row => row.Unit == "ppm",
        2,
        0,
        row => FermentationGas.PartsPerMillion(Volume.FromLiters(Gas(row.Input("volume_L"), row.Input("sugar_g_per_L"), 20)), row.Input("room_m3")));

    // Independent: French prevention articles print 44-45 L for a liter of must of 170-180 g/L, tolerance 3.
    [Fact]
    public void GasOfALiterOfMust_AgreesWithThePublished()
    {
        var row = ReferenceTable.Read("gas-yield.csv").Single(one => one.Id == "CAR-gas-yield-007");
        Assert.Equal("44-45", row.Expected);
        Assert.InRange(Gas(1, 175, 20), 44 - row.ToleranceNumber, 45 + row.ToleranceNumber);
    }

    // Legal figures: in the catalogue digit for digit.
    [Theory]
    [InlineData("CAR-exposure-001", "working-day")]
    [InlineData("CAR-exposure-002", "short-term")]
    [InlineData("CAR-exposure-006", "short-term")]
    [InlineData("CAR-exposure-003", "immediate-danger")]
    [InlineData("CAR-exposure-004", "deadly")]
    public void ExposureLevel_StandsInTheList(string id, string code) => Assert.Equal(
        ReferenceTable.Read("exposure.csv").Single(row => row.Id == id).ExpectedNumber,
        ExposureLevel.All.Single(level => level.Code == code).PartsPerMillion);

    [Theory]
    [InlineData(4999, null)]
    [InlineData(5000, "working-day")]
    [InlineData(39999, "short-term")]
    [InlineData(44508, "immediate-danger")]
    [InlineData(100000, "deadly")]
    public void Air_ReachesItsHighestLevel(double parts, string? code) => Assert.Equal(code, ExposureLevel.Reached(parts)?.Code);

    // Put back into the balance by which it was defined: gas in an hour over air in an hour is the level above the open air.
    [Property(MaxTest = 300)]
    public Property FreshAir_HoldsTheLevel() => Prop.ForAll(
        Numbers.Between(10, 5000).ToArbitrary(),
        Numbers.Between(2, 60).ToArbitrary(),
        (liters, days) =>
        {
            var air = FermentationGas.FreshAirCubicMetersPerHour(Volume.FromLiters(liters), days, 5000);
            return Math.Abs((liters * 2 / 1000 / days / 24 / air * 1e6) + 420 - 5000) < 1e-6;
        });

    [Fact]
    public void ImpossibleRoomDaysOrLevel_Throws()
    {
        var gas = Volume.FromLiters(100);
        Assert.Throws<ArgumentOutOfRangeException>(() => FermentationGas.PartsPerMillion(gas, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => FermentationGas.FreshAirCubicMetersPerHour(gas, 0, 5000));
        Assert.Throws<ArgumentOutOfRangeException>(() => FermentationGas.FreshAirCubicMetersPerHour(gas, 7, 420));
        Assert.Throws<ArgumentOutOfRangeException>(() => FermentationGas.VolumeOf(gas, default, Temperature.FromCelsius(20), Pressure.FromBar(0)));
        Assert.Equal(1_000_000, FermentationGas.PartsPerMillion(gas, 0.05));
    }

    private static double Gas(double liters, double sugar, double celsius) =>
        FermentationGas.VolumeOf(Volume.FromLiters(liters), SugarConcentration.FromGramsPerLiter(sugar), Temperature.FromCelsius(celsius), Pressure.Atmosphere).Value.Liters;
}
