using System.Diagnostics;
using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Care;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Influx;
using FermentWatch.System.Tests.Storage;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Care;

public sealed class BackupDeskTests(ITestOutputHelper output) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-desk-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Backups_AreKeptUpToTheirNumberAndNothingElseIsDeleted()
    {
        await using var disk = Open();
        var clock = new FakeTimeProvider(DateTimeOffset.UtcNow);
        using var desk = new BackupDesk(disk.Options, new BackupSettings(_folder, TimeSpan.FromHours(24), Keep: 2), clock);
        Assert.True(desk.IsDue(clock.GetUtcNow()));
        File.WriteAllText(Path.Combine(_folder, "fermentwatch-mine.db"), "mine");
        var made = new List<string>();
        for (var i = 0; i < 4; i++)
        {
            made.Add(Path.GetFileName((await desk.MakeAsync(Stop)).Path));
            clock.Advance(TimeSpan.FromMinutes(1));
        }

        Assert.Equal(["fermentwatch-mine.db", .. made[2..]], Directory.GetFiles(_folder).Select(Path.GetFileName).Order(StringComparer.Ordinal).OrderBy(name => name != "fermentwatch-mine.db"));
        Assert.False(desk.IsDue(clock.GetUtcNow()));
        Assert.True(desk.IsDue(clock.GetUtcNow() + TimeSpan.FromHours(25)));
        Assert.InRange(desk.Age(clock.GetUtcNow())!.Value, TimeSpan.Zero, TimeSpan.FromMinutes(10));
    }

    [Fact]
    public async Task FolderThatIsNone_IsAProblemUntilABackupWorks()
    {
        await using var disk = Open();
        var file = Path.Combine(_folder, "file");
        File.WriteAllText(file, "in the way");
        using var desk = new BackupDesk(disk.Options, new BackupSettings(file, TimeSpan.Zero, 1), TimeProvider.System);

        var failure = await Assert.ThrowsAsync<BackupException>(() => desk.MakeAsync(Stop));

        Assert.Contains(file, failure.Message, StringComparison.Ordinal);
        Assert.Equal(failure.Message, desk.Problem);
        File.Delete(file);
        await desk.MakeAsync(Stop);
        Assert.Null(desk.Problem);
    }

    [Fact]
    public async Task RestoreDrill_GivesBackEveryReadingOfABusyService()
    {
        await using var disk = Open();
        await CopiedStore.FillAsync(disk, sensors: 10, minutes: 2000);
        using var desk = new BackupDesk(disk.Options, new BackupSettings(_folder, TimeSpan.Zero, 1), TimeProvider.System);
        // Readings go on coming in while the backup is made.
        using var end = new CancellationTokenSource();
        var writing = WriteAsync(disk, end.Token);
        var watch = Stopwatch.StartNew();
        var made = await desk.MakeAsync(Stop);
        var backupSeconds = watch.Elapsed.TotalSeconds;
        await end.CancelAsync();
        await writing;

        watch.Restart();
        var fresh = new StoreOptions(Path.Combine(_folder, "fresh"));
        var put = Backup.Restore(made.Path, fresh, replace: false, DateTimeOffset.UtcNow);
        await using var restored = Store.Open(fresh, TimeProvider.System, NullLogger<Store>.Instance);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{made.Rows} rows: backup under load {backupSeconds:0.00} s, restore and opening {watch.Elapsed.TotalSeconds:0.00} s"));

        Assert.Equal(made.Rows, put.Rows);
        foreach (var (series, held) in CopiedStore.Held(restored))
        {
            Assert.True(held.Count >= 2000, $"{series}: {held.Count}");
        }
    }

    [Fact]
    public async Task Button_MakesABackupAndThePageTellsItsAge()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        Assert.Contains("first is made within minutes", await visitor.Client.GetStringAsync("care", Stop), StringComparison.Ordinal);

        using var answer = await visitor.SendAsync("care", "care/backup");

        Assert.Equal("/care", answer.Headers.Location?.ToString());
        Assert.Single(Directory.GetFiles(Path.Combine(service.Folder, Backup.FolderName), "*.db"));
        Assert.Matches(@"The newest backup is \d+ s old", await visitor.Client.GetStringAsync("care", Stop));
    }

    private static async Task WriteAsync(StoreOnDisk disk, CancellationToken end)
    {
        for (var minute = 2000; !end.IsCancellationRequested; minute++)
        {
            await CopiedStore.FillAsync(disk, 10, 1, fromMinute: minute);
        }
    }
}
