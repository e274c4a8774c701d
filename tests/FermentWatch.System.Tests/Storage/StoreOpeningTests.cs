using FermentWatch.Infrastructure.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Storage;

public sealed class StoreOpeningTests
{
    [Fact]
    public async Task NewDirectory_GetsPresentSchemaInWalMode()
    {
        await using var disk = StoreOnDisk.Open();

        Assert.Equal(Schema.Scripts.Count, disk.Number("PRAGMA user_version"));
        Assert.Equal(Schema.ApplicationId, disk.Number("PRAGMA application_id"));
        Assert.Equal(1, disk.Number("SELECT count(*) FROM pragma_journal_mode WHERE journal_mode = 'wal'"));
        Assert.Equal(2, await disk.Store.WriteAsync(connection => connection.Statement("PRAGMA synchronous").Number(), StoreOnDisk.Stop));
    }

    [Fact]
    public async Task NewDirectory_IsForItsOwnerOnly()
    {
        await using var disk = StoreOnDisk.Open();
        if (OperatingSystem.IsWindows())
        {
            Assert.True(Directory.Exists(disk.Options.DataDirectory));
            return;
        }

        const UnixFileMode others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.GroupExecute
            | UnixFileMode.OtherRead | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute;
        Assert.Equal(UnixFileMode.None, File.GetUnixFileMode(disk.Options.DataDirectory) & others);
        Assert.Equal(UnixFileMode.None, File.GetUnixFileMode(disk.Options.DatabasePath) & others);
    }

    [Fact]
    public async Task SecondStore_IsRefusedWithPathAndAdvice()
    {
        await using var disk = StoreOnDisk.Open();

        var refused = Refused(disk.Options);

        Assert.Equal(DataDirectoryProblem.InUse, refused.Problem);
        Assert.Contains(disk.Options.DataDirectory, refused.Message, StringComparison.Ordinal);
        Assert.Contains("--data", refused.Message, StringComparison.Ordinal);
        Assert.Contains($"process {Environment.ProcessId}", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task StoppedStore_GivesItsDirectoryFree()
    {
        await using var disk = StoreOnDisk.Open();

        await disk.RestartAsync();
        var receipt = await disk.RecordAsync(StoreOnDisk.Message("1.050", 1));

        Assert.Equal(1, receipt.Sequence);
    }

    [Fact]
    public async Task NewerSchema_IsRefusedAndLeftAsItIs()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.DisposeAsync();
        disk.Number("PRAGMA user_version = 99");

        var refused = Refused(disk.Options);

        Assert.Equal(DataDirectoryProblem.NewerSchema, refused.Problem);
        Assert.Contains(disk.Options.DatabasePath, refused.Message, StringComparison.Ordinal);
        Assert.Contains("schema 99", refused.Message, StringComparison.Ordinal);
        Assert.Equal(99, disk.Number("PRAGMA user_version"));
    }

    [Fact]
    public async Task DatabaseOfAnotherProgram_IsRefusedAndLeftAsItIs()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.DisposeAsync();
        File.Delete(disk.Options.DatabasePath);
        disk.Number("CREATE TABLE recipes (name TEXT)");

        Assert.Equal(DataDirectoryProblem.ForeignFile, Refused(disk.Options).Problem);
        Assert.Equal(1, disk.Number("SELECT count(*) FROM sqlite_master"));
    }

    [Fact]
    public async Task DamagedDatabase_IsRefusedAndKept()
    {
        await using var disk = StoreOnDisk.Open();
        for (ushort i = 1; i <= 300; i++)
        {
            await disk.RecordAsync(StoreOnDisk.Message(new string('x', 200), i));
        }

        await disk.Store.DisposeAsync();
        var page = (int)disk.Number("SELECT rootpage FROM sqlite_master WHERE name = 'inbox'");
        var size = (int)disk.Number("PRAGMA page_size");
        var bytes = await File.ReadAllBytesAsync(disk.Options.DatabasePath, StoreOnDisk.Stop);
        new Random(1).NextBytes(bytes.AsSpan((page - 1) * size, size));
        await File.WriteAllBytesAsync(disk.Options.DatabasePath, bytes, StoreOnDisk.Stop);

        var refused = Refused(disk.Options);

        Assert.Equal(DataDirectoryProblem.Damaged, refused.Problem);
        Assert.Contains(disk.Options.DatabasePath, refused.Message, StringComparison.Ordinal);
        Assert.Equal(bytes, await File.ReadAllBytesAsync(disk.Options.DatabasePath, StoreOnDisk.Stop));
    }

    [Fact]
    public async Task FileThatIsNoDatabase_IsRefused()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.DisposeAsync();
        await File.WriteAllTextAsync(disk.Options.DatabasePath, new string('a', 10_000), StoreOnDisk.Stop);

        Assert.Equal(DataDirectoryProblem.Damaged, Refused(disk.Options).Problem);
    }

    [Fact]
    public async Task DirectoryBelowAFile_IsRefusedWithPath()
    {
        var file = StoreOnDisk.NewDirectory();
        await File.WriteAllTextAsync(file, "a file", StoreOnDisk.Stop);
        try
        {
            var options = new StoreOptions(Path.Combine(file, "data"));

            var refused = Refused(options);

            Assert.Equal(DataDirectoryProblem.NotWritable, refused.Problem);
            Assert.Contains(options.DataDirectory, refused.Message, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public async Task MigrationThatFails_LeavesNothingBehind()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.DisposeAsync();
        File.Delete(disk.Options.DatabasePath);
        // A table in the way of the last one of the script.
        disk.Number($"PRAGMA application_id = {Schema.ApplicationId}; CREATE TABLE outbox (other TEXT); SELECT 0");

        Assert.Equal(DataDirectoryProblem.NotWritable, Refused(disk.Options).Problem);
        Assert.Equal(0, disk.Number("PRAGMA user_version"));
        Assert.Equal(1, disk.Number("SELECT count(*) FROM sqlite_master WHERE type = 'table'"));
    }

    [Fact]
    public async Task StoreThatIsClosed_RefusesMessages()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.Store.DisposeAsync();

        await Assert.ThrowsAsync<StorageUnavailableException>(async () => await disk.RecordAsync(StoreOnDisk.Message("1.050", 1)));
    }

    private static DataDirectoryException Refused(StoreOptions options)
    {
        SqliteConnection.ClearAllPools();
        return Assert.Throws<DataDirectoryException>(() => { Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance); });
    }
}
