using FermentWatch.Oenology.Restart;
using FermentWatch.Oenology.Sweetening;
using FermentWatch.Oenology.Tests.Worksheets;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Limits;

/// <summary>When a ferment counts as done, dry or stuck, against what the plan for a restart and the words of sweetness say.</summary>
public sealed class StagesOfFermentTests
{
    private const string Stopped = "volume=20 original-gravity=1.100 present-gravity=1.020 temperature=19 ph=3.4";

    // Below 4 g/L a ferment counts as dry, in both sources; the plan says so, and the word 'dry' ends there without acid to carry more.
    [Fact]
    public void Dry_EndsAtThePublishedSugar()
    {
        Assert.Contains("< 4", Row("001").Expected, StringComparison.Ordinal);
        Assert.Equal("< 4", Row("003").Expected);
        var nearDry = Steps("volume=20 original-gravity=1.090 present-gravity=0.996 temperature=20");
        Assert.Contains("Below 4 g/L it counts as dry", nearDry, StringComparison.Ordinal);
        Assert.Equal(Row("003").Numbers[0], Sweetness.HighestOf(SweetnessCategory.Dry, 0));
    }

    // 'Stable below 2 g/L': beside a dry word it is said that 2 g/L are enough to referment.
    [Fact]
    public void StableSugar_IsLessThanDry()
    {
        Assert.Equal("< 2", Row("004").Expected);
        Assert.Contains("2 g/L of sugar are enough", SheetRun.Answer("sweetness-word", "sugar=3 titratable-acidity=6").Notices[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Stuck_IsMeasuredTwiceADayApart()
    {
        Assert.Equal(24, Row("005").ExpectedNumber);
        Assert.Contains("24 h apart", Steps(Stopped), StringComparison.Ordinal);
    }

    // A ferment that stops with more sugar than wanted: the plan names what is left, and that one which still moves needs none.
    [Fact]
    public void StuckByDefinition_HasSugarLeftAndDoesNotMove()
    {
        Assert.StartsWith("stops with more residual sugar than wanted", Row("008").Expected, StringComparison.Ordinal);
        Assert.Contains("g/L are left", Steps(Stopped), StringComparison.Ordinal);
        Assert.Contains("still moves needs no restart", Steps(Stopped), StringComparison.Ordinal);
    }

    // Below 16 % vol sugar that is left may referment: the pressure of a closed bottle is told for it, and yeasts that bear more are planned with.
    [Fact]
    public void SugarBelowSixteenPercent_MayReferment()
    {
        Assert.Equal("possible", Row("017").Expected);
        Assert.True(RestartPlan.HighestTolerancePercent > 16);
        Assert.True(SheetRun.Number("refermentation-pressure", "fermentable-sugar=10 alcohol=15.5 temperature=20", "pressure-20").Value > 2);
    }

    // From memory: headspace in bulk under 2 to 3 % of the volume. The usual headspace of a bottle, 22 mL in 750, lies there too.
    [Fact]
    public void HeadspaceFromMemory_IsThatOfABottle()
    {
        Assert.Equal("from-memory", Row("013").Status);
        var usual = WorksheetCatalog.Find("bottle-count")!.Inputs.OfType<NumberInput>().Single(input => input.Key == "headspace").Usual!.Value;
        Assert.InRange(100 * usual / 750, 2, Row("013").Numbers[1]);
    }

    private static string Steps(string given) => string.Join(
        '\n',
        Assert.Single(SheetRun.Answer("restart-plan", given).Results.OfType<TextResult>(), result => result.Output.Key == "steps").Lines);

    private static ReferenceRow Row(string number) => ReferenceTable.Row("process-criteria.csv", "LIM-process-criteria-" + number);
}
