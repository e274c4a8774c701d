using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class DryExtractTests
{
    [Fact]
    public void TotalDryExtract_AgreesWithRowsOfTheDefinition() => ReferenceCheck.AllAgree(
        "dry_extract_tabarie.csv",
        row => row.Quantity.StartsWith("total dry extract", StringComparison.Ordinal),
        rows: 9,
        independentRows: 0,
        row => DryExtract.Of(
            SpecificGravity.FromRatio(row.Input("sg_wine_20_20")),
            AlcoholByVolume.FromPercent(row.Input("abv_percent"))).Value.GramsPerLiter);

    [Fact]
    public void GravityOfTheAlcoholFreeWine_AgreesWithRowsOfTheDefinition() => ReferenceCheck.AllAgree(
        "dry_extract_tabarie.csv",
        row => row.Quantity.StartsWith("SG of alcohol-free wine", StringComparison.Ordinal),
        rows: 8,
        independentRows: 0,
        row => row.Input("sg_wine_20_20")
            - EthanolSolution.GravityOf(AlcoholByVolume.FromPercent(row.Input("abv_percent"))).Value.Value + 1);

    // The official table is for gravities 15/15 °C; a sucrose solution of the same gravity 20/20 °C is within its tolerance.
    [Fact]
    public void OfficialExtractTable_Agrees() => ReferenceCheck.AllAgree(
        "dry_extract_tabarie.csv",
        row => row.Inputs.ContainsKey("sg_15_15"),
        rows: 6,
        independentRows: 6,
        row => SucroseSolution.GramsPerLiterOf(SpecificGravity.FromRatio(row.Input("sg_15_15"))).Value.GramsPerLiter);

    // Ten laboratory analyses, [Cortez2009]: alcohol found from density, sugar and the mean sugar-free extract of the set. The two
    // rows that the table itself marks as information only (no tolerance) stay out.
    [Fact]
    public void MeasuredWines_HaveTheAlcoholThatTheirDensityAndSugarGive() => ReferenceCheck.AllAgree(
        "measured-alcohol.csv",
        row => row.Quantity.StartsWith("MEASURED alcohol", StringComparison.Ordinal) && row.Tolerance != "-",
        rows: 10,
        independentRows: 10,
        AlcoholByDensityAndSugar);

    [Fact]
    public void AlcoholBeyondTwentyPercent_IsMarked() => Assert.Equal(
        Validity.Extrapolated,
        DryExtract.Of(SpecificGravity.FromRatio(0.99), AlcoholByVolume.FromPercent(21)).Validity);

    private static double AlcoholByDensityAndSugar(ReferenceRow row)
    {
        var gravity = GravityUnits.GravityOf(
            FermentWatch.Oenology.Quantities.Density.FromKilogramsPerCubicMeter(1000 * row.Input("density_20C_g_per_mL")));
        var extract = row.Input("residual_sugar_g_per_L") + row.Input("sugar_free_extract_g_per_L");
        var (low, high) = (0.0, 25.0);
        while (high - low > 1e-9)
        {
            var middle = (low + high) / 2;
            var tooWeak = DryExtract.Of(gravity, AlcoholByVolume.FromPercent(middle)).Value.GramsPerLiter < extract;
            (low, high) = tooWeak ? (middle, high) : (low, middle);
        }

        return low;
    }
}
