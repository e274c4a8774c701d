using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Tests.Replay;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.InOut;
using FermentWatch.System.Tests.Storage;
using Xunit;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.InOut;

/// <summary>What goes out comes in again as it was.</summary>
public sealed class ExportRoundTripTests(ITestOutputHelper output)
{
    private static readonly Batch Sloe = new(
        new BatchId("sloe"), "Sloe wine", FermentKind.Wine, "Vessel 2", Volume.FromLiters(19), StoreOnDisk.At(0), SpecificGravity.FromRatio(1.092),
        new TemperatureBand(Temperature.FromCelsius(18), Temperature.FromCelsius(22)), null,
        ValueList.Of(new SensorAttachment(new SensorId("=float"), StoreOnDisk.At(0), null, Placement.InLiquid)));

    private static CancellationToken Stop => StoreOnDisk.Stop;

    [Fact]
    public async Task ExportedReadings_GiveTheSameViewInAnEmptyStore()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        var before = View(there.Store);
        using var file = new MemoryStream();
        new BatchExport(there.Store, reason => reason.Code, "corrected").Readings(before, file);
        var text = Encoding.UTF8.GetString(file.ToArray());

        await using var here = StoreOnDisk.Open();
        await here.Store.ReplaceBatchesAsync([Sloe], Stop);
        var counts = await ImportAsync(here.Store, text);
        var after = View(here.Store);
        Assert.Equal(before, after with { Episodes = before.Episodes });
        Assert.True(before.Episodes.SequenceEqual(after.Episodes));
        Assert.True(before.Episodes.Count > 0 && before.SetAside.Count > 0, "The example shows neither an alert nor a reading left out.");
        Assert.Equal(0, counts.Known);

        // The same file again adds nothing.
        var again = await ImportAsync(here.Store, text);
        Assert.Equal(0, again.Stored);
        Assert.Equal(counts.Stored, again.Known);
        foreach (var quantity in (QuantityKind[])[QuantityKind.Gravity, QuantityKind.Temperature])
        {
            var series = new SeriesKey(new SensorId("=float"), quantity);
            Assert.Equal(
                there.Store.ReadRollups(series, RollupWidth.OneHour, StoreOnDisk.At(-9), StoreOnDisk.At(999)),
                here.Store.ReadRollups(series, RollupWidth.OneHour, StoreOnDisk.At(-9), StoreOnDisk.At(999)));
        }
    }

    [Fact]
    public async Task ReplayFolder_IsReadAsTheBatchWas()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there, withFaults: false);
        await there.Store.AppendJournalAsync(Sloe.Id, new JournalDraft(JournalKind.Racked, StoreOnDisk.At(100), "=off, \"the\" lees"), null, Stop);
        var folder = Directory.CreateTempSubdirectory("fermentwatch-replay-").FullName;
        using (var file = new MemoryStream())
        {
            new BatchExport(there.Store, reason => reason.Code, "corrected").Replay(Sloe, StoreOnDisk.At(240), file);
            using var zip = new ZipArchive(file, ZipArchiveMode.Read);
            await zip.ExtractToDirectoryAsync(folder, Stop);
        }

        var replay = ReplayFolder.Load(folder);
        Assert.Equal(Sloe.InoculatedAt, replay.Batch.InoculatedAt);
        Assert.Equal(Sloe.OriginalGravity, replay.Batch.OriginalGravity);
        Assert.Equal(Sloe.TemperatureBand, replay.Batch.TemperatureBand);
        Assert.Equal(240, replay.Rows.Count);
        Assert.Equal(TimeSpan.FromHours(12), replay.Cuts[1].At - replay.Cuts[0].At);
        Assert.Equal(12, replay.Cuts[0].Rows - 1);
        var view = BatchAnalysis.View(replay.FactsAfter(240), ViewSettings.Default, PriorSnapshot.Shipped, StoreOnDisk.At(240));
        var before = View(there.Store);
        Assert.Equal(before.LatestGravity, view.LatestGravity);
        Assert.Equal(before.Gravity, view.Gravity);
        Assert.Equal(before.Temperature, view.Temperature);
        var journal = await File.ReadAllLinesAsync(Path.Combine(folder, "journal.csv"), Stop);
        Assert.Equal("id,at,kind,body,supersedes,undone_at", journal[0]);
        Assert.Contains("racked", journal[1], StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task BacktestOfAnExport_SeesAtEachCutWhatTheServiceSaw()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        await there.Store.AppendJournalAsync(Sloe.Id, new JournalDraft(JournalKind.NutrientAdded, StoreOnDisk.At(30), "first addition"), null, Stop);
        await there.Store.AppendJournalAsync(
            Sloe.Id, new JournalDraft(JournalKind.MeasuredByHand, StoreOnDisk.At(200), "") { Gravity = SpecificGravity.FromRatio(1.0125) }, null, Stop);
        var folder = Directory.CreateTempSubdirectory("fermentwatch-replay-").FullName;
        using (var file = new MemoryStream())
        {
            new BatchExport(there.Store, reason => reason.Code, "corrected").Replay(Sloe, StoreOnDisk.At(252), file);
            using var zip = new ZipArchive(file, ZipArchiveMode.Read);
            await zip.ExtractToDirectoryAsync(folder, Stop);
        }

        var recording = Service.Backtest.ReplayFolder.Load(folder);
        Assert.Equal(Sloe.Sensors, recording.Batch.Sensors);
        var last = recording.Cuts[^1];
        var live = BatchAnalysis.View(there.Store.ReadBatch(Sloe.Id)!.Facts, ViewSettings.Default, PriorSnapshot.Shipped, last.At);
        var replayed = Service.Backtest.Predictor.View(recording, last);
        Assert.Equal(live.Events, replayed.Events);
        Assert.Equal(live.Gravity, replayed.Gravity);
        Assert.Equal(live.SetAside, replayed.SetAside);
        Assert.Equal(live.Temperature, replayed.Temperature);
        Assert.Equal(live.Forecast, replayed.Forecast);
        Assert.True(live.Events.Count >= 2, "The journal did not come along.");
        Assert.Empty(Service.Backtest.Predictor.View(recording, recording.Cuts[0]).Events);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task FiftyThousandRows_AreStoredInPiecesAndOutliveAReopening()
    {
        var text = new StringBuilder("time,gravity,temperature\n");
        for (var i = 0; i < 50_000; i++)
        {
            text.Append(StoreOnDisk.At(i / 60.0 - 900).ToString()).Append(CultureInfo.InvariantCulture, $",{1.1 - (i * 2e-6):F6},20.5\n");
        }

        await using var disk = StoreOnDisk.Open();
        await disk.ReadingAsync(1.05, StoreOnDisk.At(-0.5), 0);
        var watch = Stopwatch.StartNew();
        var steps = 0;
        var choices = ImportGuess.Of(() => new StringReader(text.ToString()), TimeZoneInfo.Utc, "float");
        var counts = await disk.Store.ImportAsync(Rows(text.ToString(), choices), _ => steps++, Stop);
        output.WriteLine($"50,000 rows, {counts.Stored} readings in {watch.Elapsed.TotalSeconds:F1} s");
        Assert.Equal(new ImportCounts(100_000, 0, 0), counts);
        Assert.Equal(100, steps);
        Assert.Equal(0, disk.Store.ReadCounts().Waiting);

        // The next message gets a number of its own.
        await disk.RestartAsync();
        var report = await disk.RecordAsync(StoreOnDisk.Message("1.04", 9, hours: 1));
        Assert.True(report.Sequence > 50_000, $"{report.Sequence}");
    }

    [Fact]
    public async Task ImportThatIsStopped_KeepsWhatWasStoredAndCanBeRepeated()
    {
        await using var disk = StoreOnDisk.Open();
        var text = "time,gravity\n" + string.Concat(Enumerable.Range(0, 2000).Select(i => $"{StoreOnDisk.At(i / 60.0 - 50)},1.05\n"));
        var choices = ImportGuess.Of(() => new StringReader(text), TimeZoneInfo.Utc, "float");
        using var stop = new CancellationTokenSource();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => disk.Store.ImportAsync(Rows(text, choices), _ => stop.Cancel(), stop.Token));
        Assert.Equal(Store.ImportChunk, disk.Store.ReadCounts().ReadingsStored);
        var counts = await disk.Store.ImportAsync(Rows(text, choices), _ => { }, Stop);
        Assert.Equal(new ImportCounts(2000 - Store.ImportChunk, Store.ImportChunk, 0), counts);
    }

    [Fact]
    public async Task StretchThatCameByFile_OutlivesTheConfiguration()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.ReplaceBatchesAsync([Sloe], Stop);
        var stretch = new SensorAttachment(new SensorId("old"), StoreOnDisk.At(1), StoreOnDisk.At(2), Placement.BareGlass);
        Assert.True(await disk.Store.AttachImportedAsync([new ImportedAttachment(Sloe.Id, stretch)], Stop));
        Assert.False(await disk.Store.AttachImportedAsync([new ImportedAttachment(Sloe.Id, stretch)], Stop));
        await disk.Store.ReplaceBatchesAsync([Sloe with { Sensors = ValueList.Of<SensorAttachment>() }], Stop);
        Assert.Equal(stretch, Assert.Single(disk.Store.ReadBatch(Sloe.Id)!.Facts.Batch.Sensors));
    }

    private static IEnumerable<IReadOnlyList<ImportedReading>> Rows(string text, ImportChoices choices) =>
        new ImportRowReader(choices, StoreOnDisk.Start.AddYears(1)).Read(new StringReader(text)).Select(row =>
        {
            Assert.Empty(row.Refusals);
            return row.Readings;
        });

    private static async Task<ImportCounts> ImportAsync(Store store, string text)
    {
        var choices = ImportGuess.Of(() => new StringReader(text), TimeZoneInfo.Utc, "unused");
        Assert.True(choices.IsOwnLayout);
        return await store.ImportAsync(Rows(text, choices), _ => { }, Stop);
    }

    private static BatchView View(Store store) =>
        BatchAnalysis.View(store.ReadBatch(Sloe.Id)!.Facts, ViewSettings.Default, PriorSnapshot.Shipped, StoreOnDisk.At(240));

    /// <summary>Ten days of an hourly float that is too warm for a while; with a spike, a correction and a clock that is wrong once.</summary>
    private static async Task FillAsync(StoreOnDisk disk, bool withFaults = true)
    {
        var store = disk.Store;
        await store.ReplaceBatchesAsync([Sloe], Stop);
        for (var hour = 0; hour < 240; hour++)
        {
            var gravity = 1.092 - (0.080 / (1 + Math.Exp((90 - hour) / 18.0)));
            await PutAsync(hour, withFaults && hour == 60 ? gravity + 0.03 : gravity, hour is > 120 and < 140 ? 24.5 : 20 + (0.1 * (hour % 7)), StoreOnDisk.At(hour));
        }

        if (withFaults)
        {
            await PutAsync(240, 1.0445, 20, StoreOnDisk.At(95));
            await PutAsync(240.2, 1.0121, 20, StoreOnDisk.At(-20_000));
        }

        async Task PutAsync(double arrival, double gravity, double celsius, EventTime stamp)
        {
            await store.RecordAsync(StoreOnDisk.Message("{}", 0, hours: arrival), Stop);
            var waiting = store.ReadUndecoded();
            var message = Assert.Single(waiting.Messages);
            DecodedField Field(QuantityKind quantity, MeasurementUnit unit, double raw, double value) => new(new SensorId("=float"), quantity, unit, raw, value, stamp);
            await store.CommitDecodedAsync(
                [new DecodedMessage(
                    message.Sequence,
                    [
                        Field(QuantityKind.Gravity, MeasurementUnit.GravityPoints, (gravity - 1) * 1000, gravity),
                        Field(QuantityKind.Temperature, MeasurementUnit.DegreesCelsius, celsius, celsius),
                    ],
                    [])],
                waiting.UpTo,
                Stop);
        }
    }
}
