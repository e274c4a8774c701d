using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches.Journaling;

public sealed class StageTests
{
    private static readonly TemperatureBand Yeast = new(Temperature.FromCelsius(16), Temperature.FromCelsius(24));

    [Fact]
    public void Journal_LeadsThroughTheStages()
    {
        var stages = Stages.Of(SimulatedBatch.Batch(), [
            Entry(100, JournalKind.Stirred),
            Entry(300, JournalKind.MalolacticStarted),
            Entry(800, JournalKind.MalolacticFinished),
            Entry(900, JournalKind.ColdCrash),
            Entry(950, JournalKind.Racked),
            Entry(1000, JournalKind.Stabilized),
            Entry(1050, JournalKind.Sweetened),
            Entry(1500, JournalKind.Bottled)]);
        Assert.Equal(
            [BatchStage.Fermenting, BatchStage.Malolactic, BatchStage.Aging, BatchStage.ColdCrash, BatchStage.Aging, BatchStage.SweetenedWatch, BatchStage.BottledWatch],
            stages.Select(stage => stage.Stage));
        Assert.Equal(SimulatedBatch.At(900), stages[3].From);
    }

    [Fact]
    public void Racking_LeavesAFermentFermentingUnlessItIsToAge()
    {
        Assert.Single(Stages.Of(SimulatedBatch.Batch(), [Entry(100, JournalKind.Racked)]));
        var aged = Entry(100, JournalKind.Racked) with { Values = ValueList.Of(new JournalValue("next", null, "ages")) };
        Assert.Equal(BatchStage.Aging, Stages.Of(SimulatedBatch.Batch(), [aged])[^1].Stage);
    }

    // 3 °C is 13 °C below the yeast's band and right for a cold crash.
    [Fact]
    public void ColdCrash_RaisesNoAlertOnTheCold()
    {
        Assert.Empty(Episodes([Entry(48, JournalKind.ColdCrash)], cold: 48));
        Assert.NotEmpty(Episodes([], cold: 48));
        Assert.NotEmpty(Episodes([Entry(48, JournalKind.ColdCrash)], cold: 48, StageHandling.YeastBandOnly));
    }

    [Fact]
    public void BandThatTheMakerSetForAStage_IsTheOneThatIsWatched()
    {
        var warm = new StageBand(BatchStage.ColdCrash, new TemperatureBand(Temperature.FromCelsius(5), Temperature.FromCelsius(9)));
        var cold = new StageBand(BatchStage.ColdCrash, new TemperatureBand(Temperature.FromCelsius(0), Temperature.FromCelsius(4)));
        Assert.NotEmpty(Episodes([Entry(48, JournalKind.ColdCrash)], cold: 48, bands: warm));
        Assert.Empty(Episodes([Entry(48, JournalKind.ColdCrash)], cold: 48, bands: cold));
        Assert.Equal(Stages.UsualBand(BatchStage.Aging), Stages.BandOf(SimulatedBatch.Batch() with { StageBands = ValueList.Of(warm) }, BatchStage.Aging));
    }

    [Fact]
    public void AlertThatLastsWhenTheStageEnds_EndsWithIt()
    {
        var episode = Assert.Single(Episodes([Entry(72, JournalKind.ColdCrash)], cold: 48));
        Assert.Equal(SimulatedBatch.At(72), episode.ClearedAt);
        Assert.Equal("temperature-stage-ended", episode.ClearedBecause!.Code);
    }

    private static ValueList<AlertEpisode> Episodes(JournalEntry[] journal, double cold, StageHandling handling = StageHandling.ByStage, params StageBand[] bands)
    {
        var readings = new List<Reading>();
        for (var t = 0.25; t < 120; t += 0.25)
        {
            var (at, celsius) = (SimulatedBatch.At(t), t < cold ? 20.0 : 3.0);
            readings.Add(new Reading(at, readings.Count + 1, at, new ReceivedAt(at.UnixMicroseconds), celsius, celsius, true));
        }

        var batch = SimulatedBatch.Batch() with { TemperatureBand = Yeast, StageHandling = handling, StageBands = ValueList.Of<StageBand>(bands) };
        return BatchAnalysis.View(
            new BatchFacts(batch, journal, [new SeriesReadings(new SeriesKey(SimulatedBatch.Sensor, QuantityKind.Temperature), readings)]),
            ViewSettings.Default,
            Monitoring.Forecasting.PriorSnapshot.Shipped,
            SimulatedBatch.At(120)).Episodes;
    }

    private static JournalEntry Entry(double hours, JournalKind kind) =>
        new((long)hours, kind, SimulatedBatch.At(hours), "", null, null, false);
}
