using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class DoseArithmeticTests
{
    private const string Table = "bench-trials.csv";
    private const double LitersPerGallon = 3.785411784;

    [Fact]
    public void ConcentrationsInTheGlass_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("concentration reached", StringComparison.Ordinal) || row.Quantity.StartsWith("the same, exact", StringComparison.Ordinal),
        rows: 8,
        independentRows: 0,
        row => DoseArithmetic.GlassConcentration(row.Input("stock_g_per_L"), row.Input("added_mL"), row.Input("sample_mL")));

    [Fact]
    public void StockVolumes_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("stock volume for an exact", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => DoseArithmetic.StockMilliliters(row.Input("stock_g_per_L"), row.Input("target_g_per_L"), row.Input("sample_mL")));

    [Fact]
    public void NominalRule_FallsShortAsTheTableSays() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("error of the nominal rule", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row =>
        {
            var (stock, target, sample) = (row.Input("stock_g_per_L"), row.Input("target_g_per_L"), row.Input("sample_mL"));
            return 100 * ((DoseArithmetic.GlassConcentration(stock, target * sample / stock, sample) / target) - 1);
        });

    [Fact]
    public void Dilutions_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("dilution of the wine", StringComparison.Ordinal),
        rows: 2,
        independentRows: 0,
        row => 100 * DoseArithmetic.Dilution(row.Input("added_mL"), row.Input("sample_mL")));

    // The supplier's bulletin spikes by C·V = c·v, the added volume left out; the difference is inside its tolerance.
    [Fact]
    public void SpikeOfTheSuppliersBulletin_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("spiking volume", StringComparison.Ordinal),
        rows: 1,
        independentRows: 1,
        row => DoseArithmetic.StockMilliliters(row.Input("stock_ug_per_L"), row.Input("target_ug_per_L"), row.Input("wine_mL")));

    // A club's table in ounces, the volume of the acid left out.
    [Fact]
    public void TartaricAcidOfTheClubTable_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("tartaric acid for a", StringComparison.Ordinal),
        rows: 3,
        independentRows: 1,
        row => DoseArithmetic.BatchGrams(0, 10 * row.Input("add_g_per_100mL"), row.Input("batch_US_gal") * LitersPerGallon, 0));

    [Fact]
    public void MassesForTheBatch_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("mass for the batch", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row => DoseArithmetic.BatchGrams(0, row.Input("chosen_g_per_L"), row.Input("batch_L"), 0));

    [Fact]
    public void SugarForTheBatch_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("sucrose for the batch", StringComparison.Ordinal),
        rows: 2,
        independentRows: 0,
        row => DoseArithmetic.BatchGrams(row.Input("from_g_per_L"), row.Input("to_g_per_L"), row.Input("batch_L"), row.Input("volume_mL_per_g")));

    [Fact]
    public void VolumesAfter_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("volume after that addition", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row =>
        {
            var (liters, bulk) = (row.Input("batch_L"), row.Input("volume_mL_per_g"));
            return DoseArithmetic.BatchLitersAfter(liters, DoseArithmetic.BatchGrams(row.Input("from_g_per_L"), row.Input("to_g_per_L"), liters, bulk), bulk);
        });

    [Fact]
    public void LacticAcidLiquid_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("lactic acid liquid", StringComparison.Ordinal),
        rows: 2,
        independentRows: 0,
        row => DoseArithmetic.LiquidMilliliters(1, row.Input("density_g_per_mL"), row.Input("mass_fraction")));

    [Fact]
    public void EthanolServed_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("ethanol served", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => DoseArithmetic.EthanolGrams(row.Input("glasses"), row.Input("pour_mL"), row.Input("abv_percent")));

    [Fact]
    public void VolumeErrorForADoseError_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("volume a batch must be measured", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => DoseArithmetic.BatchErrorLiters(row.Input("batch_L"), 0.02));

    [Fact]
    public void SyringeReadings_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("syringe reading error", StringComparison.Ordinal),
        rows: 2,
        independentRows: 0,
        row => 100 * new DosingSyringe(row.Input("syringe_mL"), row.Input("division_mL")).ReadingError(row.Input("delivered_mL")));

    // Half a division is what a display's rounding does to one reading at most: never more than the error that a net weighing is given here.
    [Fact]
    public void DisplayRounding_IsInsideTheErrorOfAWeighing() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("weighing error of a dose", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row =>
        {
            var division = row.Input("scale_division_g");
            Assert.True(new WeighingScale("any", 500, division).ErrorGrams >= division / 2);
            return 100 * division / 2 / row.Input("dose_g");
        });

    // The strengths and the dose range of the published trial: 1 mL of a 5 % stock in 50 mL stands for 1 g/L, nominally.
    [Fact]
    public void NominalStocks_AreOneGramPerLiterAMilliliter() => Assert.All(
        ReferenceTable.Read(Table).Where(row => row.Id is "BEN-worked-examples-001" or "BEN-worked-examples-004"),
        row => Assert.Equal(1, 10 * row.Input("stock_percent_w_v") / row.Input("sample_mL"), 1e-12));

    [Fact]
    public void AchievedDose_IsTheInverseOfTheBatchAmount()
    {
        foreach (var (dose, liters, bulk) in new[] { (0.2, 5.0, 0.65), (30, 19, 0.62), (120, 4.5, 0.7), (1.3, 225, 0) })
        {
            Assert.Equal(dose, DoseArithmetic.AchievedGramsPerLiter(DoseArithmetic.BatchGrams(0, dose, liters, bulk), liters, bulk), 1e-9);
        }
    }

    [Fact]
    public void TargetAboveTheStock_IsRefused() => Assert.Throws<ArgumentOutOfRangeException>(() => DoseArithmetic.StockMilliliters(50, 50, 100));
}
