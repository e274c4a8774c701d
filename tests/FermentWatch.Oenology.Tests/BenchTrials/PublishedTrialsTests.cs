using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tests.Worksheets;

namespace FermentWatch.Oenology.Tests.BenchTrials;

/// <summary>Trials that others print with nominal doses: a glass holds a little less, because what is added dilutes it.</summary>
public sealed class PublishedTrialsTests
{
    [Theory]
    [InlineData("001", 1)]
    [InlineData("004", 1)]
    public void OneMilliliter_IsNominallyAGramForALiter(string number, double milliliters)
    {
        var row = Row(number);
        Assert.Equal(row.Numbers[0], Nominal(row, milliliters), 1e-12);
        Assert.InRange(Glass(row, milliliters) / row.Numbers[0], 0.98, 1);
    }

    [Theory]
    [InlineData("003", new[] { 0, 0.1, 0.3, 0.5, 0.7, 0.9 })]
    [InlineData("009", new[] { 0.5, 1, 2, 3 })]
    public void Ladder_HasThePrintedDosesAndLessInTheGlass(string number, double[] milliliters)
    {
        var row = Row(number);
        Assert.Equal(row.Numbers.Count, milliliters.Length);
        Assert.All(row.Numbers.Zip(milliliters), pair =>
        {
            Assert.Equal(pair.First, Nominal(row, pair.Second), 1e-12);
            Assert.InRange(Glass(row, pair.Second), 0.97 * pair.First, pair.First);
        });
    }

    // Makers of tannin recommend 50 to 400 mg/L; the guard rail warns inside that range, at the lower figure of a second source.
    [Fact]
    public void RecommendedTannin_WarnsInsideTheRangeOfTheMakers()
    {
        var printed = Row("021").Numbers;
        Assert.InRange(AdditiveRules.Of(Additive.TanninPowder).Recommended!.Highest.MilligramsPerLiter, printed[0], printed[1]);
    }

    // 19 to 48 % of the tannin that went into a must was found again, 75 of 400 mg/L in one: the sheet promises no change.
    [Fact]
    public void TanninFoundAgain_IsLittleAndSaidSo()
    {
        Assert.InRange(100 * Row("022").ExpectedNumber / Row("022").Input("added_mg_per_L"), Row("020").Numbers[0] - 0.5, Row("020").Numbers[^1]);
        Assert.Contains("no change of a wine's tannin was measured", FermentWatch.Oenology.Worksheets.WorksheetCatalog.Find("tannin-powder")!.Purpose, StringComparison.Ordinal);
    }

    // Doses of a real trial, 100, 300 and 500 mg/L: the last is warned of, none is refused in a red wine.
    [Fact]
    public void DosesOfARealTrial_AreWarnedOfAboveTheRecommended()
    {
        var doses = Row("023").Numbers;
        Assert.Equal(
            [DoseVerdict.Within, DoseVerdict.Within, DoseVerdict.BeyondRecommended],
            doses.Select(dose => GuardRails.Assess(Additive.TanninPowder, MassConcentration.FromMilligramsPerLiter(dose), Law.Us, new(Color: FermentWatch.Oenology.Sulfite.WineColor.Red)).Verdict));
        Assert.Contains("beyond-recommended", SheetRun.Notices("tannin-powder", "volume=20 dose=500 color=red"));
    }

    private static double Nominal(ReferenceRow row, double milliliters) => 10 * row.Input("stock_percent_w_v") * milliliters / row.Input("sample_mL");

    private static double Glass(ReferenceRow row, double milliliters) =>
        DoseArithmetic.GlassConcentration(10 * row.Input("stock_percent_w_v"), milliliters, row.Input("sample_mL"));

    private static ReferenceRow Row(string number) => ReferenceTable.Row("bench-trials.csv", "BEN-worked-examples-" + number);
}
