using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tests.Worksheets;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.CarbonDioxide;

/// <summary>Published figures of bottles, corks and air without a tolerance, against what the sheets compute, ask and say.</summary>
public sealed class PublishedBottlesTests
{
    private const string Priming = "volume=20 alcohol=11.5 temperature=20 degassed=yes ";

    // Traditional sparkling wine gets about 24 g/L: at the cellar's 12 °C the pressure of 24 g/L is about the 6 bar of the rule below.
    [Fact]
    public void TirageSugar_GivesThePressureOfTheRuleOfThumb()
    {
        var sugar = Row("001").Numbers[0];
        var barByRule = sugar / Row("009").Input("sugar_g_per_L") * Row("009").ExpectedNumber;
        Assert.Equal(6, barByRule, 9);
        var bottle = new ClosedBottle(0.02, Temperature.FromCelsius(12), AlcoholByVolume.FromPercent(12), default);
        Assert.Equal(barByRule, bottle.GasPressure(MassConcentration.FromGramsPerLiter(sugar * CarbonDioxideYield.PerSucrose), Temperature.FromCelsius(12)).Value.Bar, 0.6);
    }

    // The pressures that bottles are tested for differ by country and kind from 3 to 18 bar: so none is built in. The sheet asks for the
    // rating of the bottle's maker, says so when it is missing, and refuses above it.
    [Theory]
    [InlineData("020", 12, "beer")]
    [InlineData("021", 16, "beer")]
    [InlineData("024", 16, "sparkling")]
    [InlineData("025", 12, "plastic")]
    [InlineData("028", 3, "beer")]
    public void TestedPressure_IsNeverTakenForARating(string number, double bar, string bottle)
    {
        Assert.Contains(Row(number).Numbers, printed => Math.Abs(printed - bar) < 1e-9 || Math.Abs((10 * printed) - bar) < 1e-9);
        Assert.Contains("ask-rating", SheetRun.Notices("priming-sugar", Priming + $"target-pressure=2 bottle={bottle}"));
        var given = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"rated-pressure={bar}");
        Assert.Contains("above-rating", SheetRun.Notices("priming-sugar", Priming + $"target-pressure={(bar > 6 ? 6 : bar)} bottle={bottle} rated-pressure=2.9"));
        Assert.DoesNotContain("ask-rating", SheetRun.Notices("priming-sugar", Priming + $"target-pressure=1.5 bottle={bottle} " + given));
    }

    // 9 g/L are printed as 4.5 volumes.
    [Fact]
    public void VolumesOfGas_AreThePrinted() => Assert.Equal(
        Row("022").Numbers[1],
        CarbonDioxideSolubility.VolumesOf(MassConcentration.FromGramsPerLiter(Row("022").Numbers[0])),
        0.06);

    [Fact]
    public void OneWayBottles_AreSpokenOf()
    {
        Assert.Equal("not for refilling under pressure", Row("027").Expected);
        Assert.Contains("One-way bottles are not meant to be filled under pressure again", Said("ask-rating", Priming + "target-pressure=2 bottle=beer"), StringComparison.Ordinal);
    }

    [Fact]
    public void SparklingByLaw_BeginsAtThePrintedPressure()
    {
        Assert.Equal(SparklingClass.Sparkling, SparklingClasses.Of(Row("029").ExpectedNumber));
        Assert.Equal(SparklingClass.BetweenClasses, SparklingClasses.Of(Row("029").ExpectedNumber - 0.01));
    }

    // How to open: cold, unshaken, 45 degrees away from people, towel and hand on the cork, the wire last.
    [Fact]
    public void OpeningRule_StandsWhereBottlesGetPressure()
    {
        var caution = Caution.OpeningBottle;
        Assert.All<string>(["chill", "shake", "45", "away from people", "towel", "wire last"], word => Assert.Contains(word, Row("034").Expected, StringComparison.Ordinal));
        Assert.All<string>(["cold", "unshaken", "45°", "away from people", "towel", "wire last"], word => Assert.Contains(word, caution.Text, StringComparison.Ordinal));
        Assert.Contains(caution, WorksheetCatalog.Find("priming-sugar")!.Cautions);
    }

    // Why: a cork flies at up to 80 km/h and is at the eye before it closes; one in four of those it hit was legally blind afterwards.
    [Fact]
    public void EyesBlindedByCorks_AreNamedAsTheReason()
    {
        Assert.Equal(26, Row("031").ExpectedNumber);
        Assert.StartsWith("up to 80 km/h", Row("030").Expected, StringComparison.Ordinal);
        Assert.Contains("blinded", Caution.OpeningBottle.Text, StringComparison.Ordinal);
    }

    // No standard for still bottles was found: no sugar is computed for them at all.
    [Fact]
    public void StillBottle_IsRefused()
    {
        Assert.EndsWith("still bottles carry no pressure rating", Row("035").Expected, StringComparison.Ordinal);
        Assert.Contains("Still wine bottles carry no pressure rating", Said("bottle-not-rated", Priming + "target-pressure=1 bottle=still"), StringComparison.Ordinal);
    }

    // Where carbon dioxide is immediately dangerous, the air still holds more oxygen than the floor at which an oxygen meter warns.
    [Fact]
    public void OxygenMeter_DoesNotWarnOfDeadlyGas()
    {
        var oxygen = 20.9 * (1 - (ExposureLevel.ImmediateDanger.PartsPerMillion / 1e6));
        Assert.True(oxygen > Exposure("005").ExpectedNumber);
        Assert.Contains("An oxygen meter does not warn", WorksheetCatalog.Find("carbon-dioxide-in-room")!.Purpose, StringComparison.Ordinal);
    }

    // Near 100 % at the height of a ferment: 20 L of must give their headspace many times over.
    [Fact]
    public void HeadspaceOfAFerment_IsNearlyAllGas()
    {
        Assert.Equal("near 100", Exposure("007").Expected);
        var gas = FermentationGas.VolumeOf(Volume.FromLiters(20), SugarConcentration.FromGramsPerLiter(200), Temperature.FromCelsius(20), Pressure.Atmosphere).Value;
        Assert.True(gas.Liters / 3 > 100);
        Assert.InRange(FermentationGas.PartsPerMillion(gas, 0.003), 0.99e6, 1e6);
    }

    // A recommended limit for the gas of sulfite, from memory: no figure is shown for it, only that it chokes and wants moving air.
    [Fact]
    public void GasOfSulfite_IsNamed()
    {
        var row = ReferenceTable.Row("additions-and-strength.csv", "SUL-additions-and-strength-027");
        Assert.Equal(("from-memory", "2 / 5"), (row.Status, row.Expected));
        Assert.Contains("choking gas: work in moving air", Caution.Sulfite.Text, StringComparison.Ordinal);
    }

    private static string Said(string code, string given) => SheetRun.Answer("priming-sugar", given).Notices.Single(notice => notice.Code == code).Text;

    private static ReferenceRow Row(string number) => ReferenceTable.Row("bottles-and-priming.csv", "CAR-bottles-and-priming-" + number);

    private static ReferenceRow Exposure(string number) => ReferenceTable.Row("exposure.csv", "CAR-exposure-" + number);
}
