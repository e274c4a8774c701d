using System.IO.Compression;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.InOut;
using FermentWatch.System.Tests.Storage;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>A full export makes an empty data directory what the first was, and exports again as it came.</summary>
public sealed class FullRoundTripTests
{
    private static readonly Batch Sloe = new(
        new BatchId("sloe"), "Sloe wine", FermentKind.Wine, "Vessel 2", Volume.FromLiters(19), StoreOnDisk.At(0), SpecificGravity.FromRatio(1.092),
        new TemperatureBand(Temperature.FromCelsius(18), Temperature.FromCelsius(22)), null,
        ValueList.Of(new SensorAttachment(StoreOnDisk.GravitySeries.Sensor, StoreOnDisk.At(0), null, Placement.InLiquid)));

    private static readonly TopicMapping Configured = Mapping("cellar/one", "leaning float");

    private static CancellationToken Stop => StoreOnDisk.Stop;

    [Fact]
    public async Task ExportImportExport_IsEqualAndTheViewIsTheSame()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        var path = Path.Combine(there.Options.DataDirectory, "whole.zip");
        Export(there.Store, path, Configured);

        await using var here = StoreOnDisk.Open();
        here.Clock.Advance(TimeSpan.FromDays(400));
        var rows = await FullImport.RunAsync(path, here.Store, Stop);
        Assert.Equal((1, 3, 50, 2, 1), (rows["batch"], rows["journal"], rows["reading"], rows["mapping"], rows["trial"]));
        var again = Path.Combine(here.Options.DataDirectory, "again.zip");
        Export(here.Store, again);

        var (first, second) = (Read(path), Read(again));
        Assert.Equal(first.Keys.Order(StringComparer.Ordinal), second.Keys.Order(StringComparer.Ordinal));
        // The one for people and other programs lists mappings that are in the configuration; here they are the page's.
        Assert.All(first.Where(entry => entry.Key != "mappings.json"), entry => Assert.Equal(entry.Value, second[entry.Key]));
        var view = View(there.Store);
        Assert.Equal(view, View(here.Store) with { Episodes = view.Episodes });
        Assert.True(view.Gravity.Count > 0 && view.Events.Count > 0, "The view shows nothing.");
        Assert.Equal(there.Store.ReadJournalLines(Sloe.Id), here.Store.ReadJournalLines(Sloe.Id));
        Assert.Equal(there.Store.ReadProperties("preference-"), here.Store.ReadProperties("preference-"));
        Assert.Equal(there.Store.ReadProperties("bench-"), here.Store.ReadProperties("bench-"));
        Assert.Equal(BenchTrialJson.Write(TrialSamples.Sugar()), BenchTrialJson.Write(Assert.Single(here.Store.ReadTrials()).Trial));
        foreach (var width in (RollupWidth[])[RollupWidth.TenMinutes, RollupWidth.OneHour])
        {
            Assert.Equal(
                there.Store.ReadRollups(StoreOnDisk.GravitySeries, width, StoreOnDisk.At(-9), StoreOnDisk.At(999)),
                here.Store.ReadRollups(StoreOnDisk.GravitySeries, width, StoreOnDisk.At(-9), StoreOnDisk.At(999)));
        }

        // The next message gets a number of its own, and its reading a place beside the others.
        var report = await here.RecordAsync(StoreOnDisk.Message("1.04", 9, hours: 100));
        Assert.True(report.Sequence > there.Number("SELECT max(n) FROM reading"), $"{report.Sequence}");
        await here.Store.ReplaceBatchesAsync([], Stop);
        Assert.Equal(Sloe.Id, Assert.Single(here.Store.ReadBatches()).Id);
    }

    [Fact]
    public async Task Secrets_StayBehindAndAreNamed()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        await there.Store.AddFirstMakerAsync("Ada Secretive", "hash-4711", Stop);
        await there.Store.AddDeviceAsync("float-4711", "key-4711", "cellar/4711", Stop);
        await there.Store.WritePropertiesAsync(new Dictionary<string, string?> { ["wishes-1."] = "sealed-4711" }, Stop);
        var path = Path.Combine(there.Options.DataDirectory, "whole.zip");
        Export(there.Store, path, Configured);
        var entries = Read(path);
        Assert.All(entries.Values, text => Assert.DoesNotContain("4711", text, StringComparison.Ordinal));
        Assert.All(entries.Values, text => Assert.DoesNotContain("Secretive", text, StringComparison.Ordinal));
        foreach (var named in new[] { "passwords", "devices and their keys", "own channels", "settings file" })
        {
            Assert.Contains(named, entries["about.json"], StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task DirectoryThatIsNotEmpty_IsLeftAsItWas()
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        var path = Path.Combine(there.Options.DataDirectory, "whole.zip");
        Export(there.Store, path);
        var readings = there.Number("SELECT count(*) FROM reading");
        var fault = await Assert.ThrowsAsync<WholeImportException>(() => FullImport.RunAsync(path, there.Store, Stop));
        Assert.Contains("not empty", fault.Message, StringComparison.Ordinal);
        Assert.Equal(readings, there.Number("SELECT count(*) FROM reading"));
    }

    [Theory]
    [InlineData("[1,", "line 2")]
    [InlineData("""["sloe"]""", "line 2")]
    [InlineData("""["sloe","a","b"]""", "line 2")]
    [InlineData("""{"batch":"sloe"}""", "line 2")]
    [InlineData("""["nobody",3]""", "line 2")]
    public async Task LineThatCannotBeTakenIn_IsNamedAndNothingIsKept(string line, string place)
    {
        await using var there = StoreOnDisk.Open();
        await FillAsync(there);
        var path = Path.Combine(there.Options.DataDirectory, "whole.zip");
        Export(there.Store, path);
        using (var zip = ZipFile.Open(path, ZipArchiveMode.Update))
        {
            zip.GetEntry("restore/batch_state.jsonl")!.Delete();
            using var writer = new StreamWriter(zip.CreateEntry("restore/batch_state.jsonl").Open());
            await writer.WriteAsync("[\"batch\",\"revision\"]\n" + line + "\n");
        }

        await using var here = StoreOnDisk.Open();
        var fault = await Assert.ThrowsAsync<WholeImportException>(() => FullImport.RunAsync(path, here.Store, Stop));
        Assert.Contains("restore/batch_state.jsonl, " + place, fault.Message, StringComparison.Ordinal);
        Assert.Equal(0, here.Number("SELECT count(*) FROM batch"));
        Assert.True(here.Store.Health.Writable);
    }

    [Fact]
    public async Task FileThatIsNoExport_IsRefused()
    {
        await using var here = StoreOnDisk.Open();
        var path = Path.Combine(here.Options.DataDirectory, "other");
        await File.WriteAllTextAsync(path, "not a zip", Stop);
        Assert.Contains("no full export", (await Assert.ThrowsAsync<WholeImportException>(() => FullImport.RunAsync(path, here.Store, Stop))).Message, StringComparison.Ordinal);
        Assert.Contains("cannot be read", (await Assert.ThrowsAsync<WholeImportException>(() => FullImport.RunAsync(path + "-gone", here.Store, Stop))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryTable_IsCarriedOrNamedAsLeftOut()
    {
        await using var disk = StoreOnDisk.Open();
        var known = WholeTables.Carried.Select(table => table.Name).Concat(WholeTables.LeftOut.Keys).ToHashSet(StringComparer.Ordinal);
        var list = string.Join(", ", known.Select(name => $"'{name}'"));
        Assert.Equal(0, disk.Number($"SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT IN ({list})"));
        Assert.Equal(known.Count, disk.Number($"SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ({list})"));
    }

    /// <summary>Here the batch is one of the page's.</summary>
    private static BatchView View(Store store)
    {
        var facts = store.ReadBatch(Sloe.Id)!.Facts;
        return BatchAnalysis.View(facts with { Batch = facts.Batch with { Origin = BatchOrigin.Page } }, ViewSettings.Default, PriorSnapshot.Shipped, StoreOnDisk.At(60));
    }

    private static async Task FillAsync(StoreOnDisk disk)
    {
        var store = disk.Store;
        await store.ReplaceBatchesAsync([Sloe], Stop);
        for (var hour = 0; hour < 48; hour++)
        {
            await disk.ReadingAsync(1.092 - (hour * 0.00073), StoreOnDisk.At(hour), hour + 0.1);
        }

        // A correction of one, and one whose clock is wrong.
        await disk.ReadingAsync(1.0555, StoreOnDisk.At(40), 50);
        await disk.ReadingAsync(1.0501, StoreOnDisk.At(-20_000), 51);
        await store.AppendJournalAsync(Sloe.Id, new JournalDraft(JournalKind.NutrientAdded, StoreOnDisk.At(20), "first \"half\"") { By = "Ada" }, "page-1", Stop);
        var wrong = await store.AppendJournalAsync(Sloe.Id, new JournalDraft(JournalKind.MeasuredByHand, StoreOnDisk.At(30), "") { Gravity = SpecificGravity.FromRatio(1.07) }, null, Stop);
        await store.AppendJournalAsync(
            Sloe.Id, new JournalDraft(JournalKind.MeasuredByHand, StoreOnDisk.At(30), "") { Gravity = SpecificGravity.FromRatio(1.071), Supersedes = wrong, Because = "misread" }, null, Stop);
        await store.AddMappingAsync(Mapping("cellar/two", "tall float"), Stop);
        await store.IgnoreTopicAsync("noise/1", true, Stop);
        var trial = await store.AddTrialAsync(Sloe.Id, TrialSamples.Sugar(), Stop);
        await store.OpenTastingAsync(trial, "hash-4711", "sealed-4711", StoreOnDisk.Arrival(99), Stop);
        await store.WritePropertiesAsync(new Dictionary<string, string?> { ["bench-instruments"] = "a fine scale" }, Stop);
        await store.StartWorkAsync([Sloe.Id], StoreOnDisk.At(10), StoreOnDisk.At(12), Stop);
        await store.WritePropertiesAsync(new Dictionary<string, string?> { ["preference-mark"] = "comma" }, Stop);
    }

    private static TopicMapping Mapping(string filter, string sensor) => new(
        sensor, TopicFilter.Parse(filter), ValueList.Of(new FieldMapping(JsonPointer.Parse("/g"), QuantityKind.Gravity, MeasurementUnit.SpecificGravity)), null);

    private static void Export(Store store, string path, params TopicMapping[] configured)
    {
        using var file = File.Create(path);
        FullExport.Write(store, new BatchExport(store, reason => reason.Code, "corrected"), ValueList.Of<TopicMapping>(configured), file);
    }

    private static Dictionary<string, string> Read(string path)
    {
        using var zip = ZipFile.OpenRead(path);
        return zip.Entries.ToDictionary(entry => entry.FullName, entry =>
        {
            using var reader = new StreamReader(entry.Open(), Encoding.UTF8);
            return reader.ReadToEnd();
        });
    }
}
