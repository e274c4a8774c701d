using System.Diagnostics;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Storage;
using Xunit;
using static FermentWatch.System.Tests.Influx.CopiedStore;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Influx;

/// <summary>A day or more on which the server is away, while readings of twenty sensors come in once a minute.</summary>
[Collection(MeasuredAlone.Name)]
public sealed class CopyOutageTests(ITestOutputHelper output)
{
    private const int Sensors = 20;

    /// <summary>How long the server is away; a campaign makes it longer.</summary>
    private static readonly int Hours = int.Parse(
        Environment.GetEnvironmentVariable("FERMENTWATCH_OUTAGE_HOURS") ?? "24", global::System.Globalization.CultureInfo.InvariantCulture);

    private const long MostGrowthBytes = 10_000_000;

    [Fact]
    public async Task DayWithoutServer_LosesNoPointAndNeedsNoMemory()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        await FillAsync(disk, Sensors, 10);
        using (var target = server.Target())
        {
            await CopyAllAsync(Copier(disk, target));
        }

        server.Kill();
        await using var failing = await AnsweringServer.StartAsync(503);
        await using var silent = await AnsweringServer.StartAsync(200, hangs: true);
        using var gone = server.Target();
        using var faulty = new InfluxTarget(failing.Settings with { Bucket = InfluxOne.Database }, TimeProvider.System);
        var away = Copier(disk, gone);
        // The first hours, until each attempt reads as much as it ever will.
        for (var hour = 0; hour < 4; hour++)
        {
            await HourAsync(disk, away, hour);
        }

        var (heap, resident) = (Heap(), Environment.WorkingSet);
        for (var hour = 4; hour < Hours; hour++)
        {
            await HourAsync(disk, away, hour);
        }

        var growth = (Heap: Heap() - heap, Resident: Environment.WorkingSet - resident);
        // The other ways to be away: the server fails, or takes a connection and says nothing.
        Assert.NotNull((await new LineWriter(faulty, "m f=1 1").WriteAsync(["m f=1 1"], Stop)).Trouble);
        using var mute = new InfluxTarget(silent.Settings, TimeProvider.System);
        Assert.Contains("no answer", InfluxCopier.ProblemOf((await new LineWriter(mute, "m f=1 1").WriteAsync(["m f=1 1"], Stop)).Trouble), StringComparison.Ordinal);

        await server.StartAgainAsync();
        var waiting = disk.Store.ReadChangeBacklog().Changes;
        var watch = Stopwatch.StartNew();
        var points = await CopyAllAsync(away);
        var rate = points / watch.Elapsed.TotalSeconds;

        output.WriteLine(string.Create(
            global::System.Globalization.CultureInfo.InvariantCulture,
            $"outage of {Hours} h: {waiting} changes waited; {points} points in {watch.Elapsed.TotalSeconds:0.0} s, {rate:0} a second; growth of the heap {growth.Heap / 1e6:0.0} MB, of the process {growth.Resident / 1e6:0.0} MB"));
        var held = Held(disk.Store);
        AssertSame(held, await HeldAsync(server));
        Assert.Equal(Sensors * 2L * ((Hours * 60) + 10), held.Values.Sum(series => series.Count));
        Assert.True(growth.Heap <= MostGrowthBytes, $"The heap grew by {growth.Heap} bytes.");
    }

    [Fact]
    public async Task ServerThatTakesItsWritesAsTheyAre_HasEveryPointAfterItsOwnRestart()
    {
        await using var server = await VictoriaServer.StartAsync();
        await using var disk = Open();
        using var target = new InfluxTarget(server.Settings, TimeProvider.System);
        var copier = Copier(disk, target);
        await FillAsync(disk, 3, 200);
        await CopyAllAsync(copier);
        await server.EndAsync();
        await FillAsync(disk, 3, 400, fromMinute: 200);
        Assert.NotNull((await copier.StepAsync(Stop)).Result.Trouble);
        await server.StartAgainAsync();
        await CopyAllAsync(copier);

        var selector = $"{PointNames.Reading}_value{{site=\"attic\"}}";
        IReadOnlyList<(IReadOnlyDictionary<string, string> Labels, IReadOnlyList<(long At, double Value)> Samples)> found = [];
        await Eventually.TrueAsync(
            () => (found = server.ExportAsync(selector).GetAwaiter().GetResult()).Sum(series => series.Samples.Count) >= 3600,
            () => $"the points are searchable; {found.Sum(series => series.Samples.Count)} are");
        var held = Held(disk.Store);
        Assert.Equal(6, found.Count);
        foreach (var (labels, samples) in found)
        {
            var (count, sum) = held[$"{labels["sensor"]}/{labels["quantity"]}"];
            Assert.Equal((600, count), (samples.Count, count));
            Assert.Equal(sum, samples.Sum(sample => sample.Value), Math.Abs(sum) * 1e-9);
        }
    }

    private static async Task HourAsync(StoreOnDisk disk, InfluxCopier away, int hour)
    {
        await FillAsync(disk, Sensors, 60, fromMinute: 10 + (hour * 60));
        for (var attempt = 0; attempt < 4; attempt++)
        {
            Assert.NotNull((await away.StepAsync(Stop)).Result.Trouble);
        }
    }

    private static long Heap()
    {
        GC.Collect();
        GC.WaitForPendingFinalizers();
        return GC.GetTotalMemory(forceFullCollection: true);
    }
}
