using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tests.Worksheets;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Nutrients;

/// <summary>What studies of mead and must found, against ranges and words of the nutrient sheets.</summary>
public sealed class PublishedNutrientsTests
{
    private static readonly Worksheet Sheet = WorksheetCatalog.Find("nutrient-marks")!;

    // One study of mead found that the salt alone did not complete the ferment, another that salts and vitamins did nothing: no guarantee.
    [Fact]
    public void StudiesOfMead_DisagreeAndTheSheetSaysSo()
    {
        Assert.Contains("did not ensure completion", Mead("003").Expected, StringComparison.Ordinal);
        Assert.StartsWith("no positive effect", Mead("004").Expected, StringComparison.Ordinal);
        Assert.Contains("never a guarantee: published results disagree", Sheet.Purpose, StringComparison.Ordinal);
    }

    // 57.7 to 567 mg of protein in 100 g hold 27 mg of nitrogen on the mean, which yeast can't take up: it is not counted in.
    [Fact]
    public void ProteinOfHoney_IsNoNitrogenForYeast()
    {
        Assert.Equal(Mead("008").Numbers[0], Mead("009").Input("protein_mg_per_100g"));
        ReferenceCheck.Near(Mead("009"), Mead("008").Numbers[0] / Mead("009").Input("factor"));
        var nitrogen = SheetRun.Number("nutrient-marks", "volume=20 original-gravity=1.100 nitrogen=0 mead=yes law=eu", "nitrogen-least").Value;
        Assert.Equal(150, nitrogen);
    }

    // Musts of 25 to 200 mg/L all fermented out, slower below 100: what is asked of a must reaches over that range.
    [Fact]
    public void NitrogenOfRealMusts_CanBeTyped()
    {
        var field = Sheet.Inputs.OfType<NumberInput>().Single(input => input.Key == "nitrogen");
        Assert.All(Mead("011").Numbers, milligrams => Assert.InRange(milligrams, field.Low, field.High));
        Assert.InRange(NitrogenTarget.For(SpecificGravity.FromRatio(1.095), false).Lowest, Mead("011").Numbers[0], Mead("011").Numbers[1]);
    }

    // From memory, found in no text that was read: 200 to 350 mg/L at 21 to 27 °Bx. The middle of the range follows it, and is marked so.
    [Fact]
    public void TargetFromMemory_IsMarkedSo()
    {
        Assert.Equal(("from-memory", "still not found in any text read"), (Mead("015").Status, Mead("015").Expected));
        Assert.Contains(Sheet.Sources, source => source.Standing is SourceStanding.FromMemory && source.Text.StartsWith("target by Brix", StringComparison.Ordinal));
        var must = SucroseSolution.GravityOf(Plato.FromDegrees(23)).Value;
        Assert.Equal(250, NitrogenTarget.For(must, false).Usual, 0.5);
    }

    // From memory: 10 to 50 mg/L in a must of honey. The field says so.
    [Fact]
    public void NitrogenOfHoneyMust_IsSaidAtTheField()
    {
        var row = ReferenceTable.Row("yan-and-dap.csv", "NUT-yan-and-dap-024");
        Assert.Equal(("from-memory", "10-50"), (row.Status, row.Expected));
        Assert.Contains("often below 50 (from memory)", Sheet.Inputs.Single(input => input.Key == "nitrogen").Help, StringComparison.Ordinal);
    }

    // 0.041 % of total nitrogen in honey, from memory, most of it protein and proline: 300 g in a liter would hold 120 mg, so below 50 for yeast is no contradiction.
    [Fact]
    public void TotalNitrogenFromMemory_IsMoreThanWhatYeastGets()
    {
        var row = Mead("017");
        Assert.Equal("from-memory", row.Status);
        Assert.True(row.Numbers[0] / 100 * 300 * 1000 > ReferenceTable.Row("yan-and-dap.csv", "NUT-yan-and-dap-024").Numbers[1]);
    }

    // 2 °Balling a day for a white: what the sheet takes for the busiest day unless told otherwise.
    [Fact]
    public void DailySugar_IsTheUsualRate()
    {
        var row = ReferenceTable.Row("heat-and-temperature.csv", "NUT-heat-and-temperature-012");
        var daily = WorksheetCatalog.Find("fermentation-heat")!.Inputs.OfType<NumberInput>().Single(input => input.Key == "sugar-fermented-daily").Usual!.Value;
        ReferenceCheck.Near(row, daily / 10);
    }

    private static ReferenceRow Mead(string number) => ReferenceTable.Row("mead-nitrogen.csv", "NUT-mead-nitrogen-" + number);
}
