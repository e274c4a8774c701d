using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches.Journaling;

public sealed class LedgerTests
{
    private static readonly Batch Twenty = SimulatedBatch.Batch(SpecificGravity.FromRatio(1.080)) with { Volume = Volume.FromLiters(20) };

    [Fact]
    public void AdditionsOfOneProduct_AreSummedOverTheVolumeOfToday()
    {
        var ledger = Ledger.Of(Twenty, [
            Entry(1, JournalKind.NutrientAdded, Word("product", "Yeast food"), Number("grams", 6)),
            Entry(2, JournalKind.NutrientAdded, Word("product", "yeast food"), Number("grams", 4)),
            Entry(3, JournalKind.NutrientAdded, Word("product", "Yeast food")),
            Entry(4, JournalKind.Racked, Number("volume", 16)),
            Entry(5, JournalKind.ToppedUp, Number("added", 2))]);
        Assert.Equal(18, ledger.Volume!.Value.Liters, 9);
        Assert.Equal(SimulatedBatch.At(4), ledger.MeasuredAt);
        var line = ledger.Lines[0];
        Assert.Equal(("Yeast food", 10.0, 2, 1), (line.Product, line.Total, line.Times, line.TimesWithoutAmount));
        Assert.Equal(10.0 / 18, line.PerLiter!.Value, 9);
    }

    [Fact]
    public void SamplesAndAMeasuredTopUp_AreInTheVolumeOfToday()
    {
        JournalEntry[] sampled = [Entry(1, JournalKind.Racked, Number("volume", 16)), Entry(2, JournalKind.MeasuredByHand, Number("sample", 250)), Entry(3, JournalKind.Tasted, Number("sample", 50))];
        Assert.Equal(15.7, Ledger.Of(Twenty, sampled).Volume!.Value.Liters, 9);
        var topped = Ledger.Of(Twenty, [.. sampled, Entry(4, JournalKind.ToppedUp, Number("added", 1), Number("volume", 16.5))]);
        Assert.Equal(16.5, topped.Volume!.Value.Liters, 9);
        Assert.Equal(SimulatedBatch.At(4), topped.MeasuredAt);
        Assert.Equal(1, topped.Lines[0].Total, 9);
    }

    // 1 kg of sucrose in 20 L of SG 1.080: 10 °P sucrose solution has 103.81 g/L at SG 1.03998, so a gram in a liter is about 0.385 points;
    // 1000 g over 20.62 L are 48.5 g/L, less what the larger volume thins out (80 points by 0.62/20.62 = 2.4): 16.3 points.
    [Fact]
    public void SugarAddedOnTheWay_RaisesTheOriginalGravity()
    {
        var ledger = Ledger.Of(Twenty, [Entry(48, JournalKind.SugarAdded, Word("sweetener", "sugar"), Number("kilograms", 1))]);
        Assert.InRange(ledger.FedPoints, 15.8, 16.8);
        Assert.Equal(80 + ledger.FedPoints, ledger.OriginalGravity!.Value.Points, 6);
        Assert.Equal(20.62, ledger.Volume!.Value.Liters, 6);
    }

    [Fact]
    public void HoneyRaisesLessThanSugar_AndTwoHalvesAsMuchAsOneWhole()
    {
        double Fed(params (string Sweetener, double Kilograms)[] feedings) => Ledger.Of(
            Twenty, [.. feedings.Select((one, i) => Entry(24 * (i + 1), JournalKind.SugarAdded, Word("sweetener", one.Sweetener), Number("kilograms", one.Kilograms)))]).FedPoints;
        Assert.True(Fed(("honey", 1)) < Fed(("sugar", 1)));
        Assert.Equal(Fed(("sugar", 1)), Fed(("sugar", 0.5), ("sugar", 0.5)), 6);
    }

    [Fact]
    public void FedBatch_HoldsTheAlcoholOfWhatWasFed()
    {
        JournalEntry[] read = [Hand(24 * 10, 1.000)];
        var plain = View(read);
        var fed = View([.. read, Entry(48, JournalKind.SugarAdded, Word("sweetener", "sugar"), Number("kilograms", 1))]);
        Assert.InRange(fed - plain, 1.8, 2.6);

        static double View(JournalEntry[] journal) => BatchAnalysis.View(
            new BatchFacts(Twenty with { Sensors = ValueList.Of<SensorAttachment>() }, journal, []),
            ViewSettings.Default,
            Monitoring.Forecasting.PriorSnapshot.Shipped,
            SimulatedBatch.At(24 * 10.1)).Alcohol!.Value.Value.Percent;
    }

    [Fact]
    public void NoVolume_NoFigurePerLiter()
    {
        var ledger = Ledger.Of(SimulatedBatch.Batch(), [Entry(1, JournalKind.Stabilized, Number("sulfite", 2), Number("sorbate", 4))]);
        Assert.Null(ledger.Volume);
        Assert.Equal(2, ledger.Lines.Count);
        Assert.All(ledger.Lines, line => Assert.Null(line.PerLiter));
    }

    [Fact]
    public void SulfiteAddedForWhatever_IsOneSum()
    {
        var ledger = Ledger.Of(SimulatedBatch.Batch(), [Entry(1, JournalKind.SulfiteAdded, Number("sulfite", 1.5)), Entry(2, JournalKind.Stabilized, Number("sulfite", 2), Number("sorbate", 4))]);
        Assert.Equal([("sulfite", 3.5, 2), ("sorbate", 4, 1)], ledger.Lines.Select(line => (line.Product, line.Total, line.Times)));
    }

    private static JournalEntry Hand(double hours, double gravity) => new(
        (long)hours, JournalKind.MeasuredByHand, SimulatedBatch.At(hours), "", SpecificGravity.FromRatio(gravity), null, false);

    private static JournalEntry Entry(double hours, JournalKind kind, params JournalValue[] values) =>
        new((long)hours, kind, SimulatedBatch.At(hours), "", null, null, false) { Values = ValueList.Of<JournalValue>(values) };

    private static JournalValue Number(string field, double number) => new(field, number, null);

    private static JournalValue Word(string field, string word) => new(field, null, word);
}
