using FermentWatch.Infrastructure.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Copies of a real store, made while it is open and put back.</summary>
public sealed class BackupTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-backup-").FullName;

    private string FilePath => Path.Combine(_folder, "copy.db");

    private StoreOptions Fresh => new(Path.Combine(_folder, "fresh"));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task OpenStore_IsCopiedAndTheCopyOpensWithItsReadings()
    {
        await using var disk = StoreOnDisk.Open();
        await disk.ReadingAsync(1.0421, StoreOnDisk.At(0), 0);
        Backup.Make(disk.Options, FilePath, StoreOnDisk.Start);
        await disk.ReadingAsync(1.0400, StoreOnDisk.At(1), 1);

        Backup.Restore(FilePath, Fresh, replace: false, StoreOnDisk.Start);

        await using var restored = Store.Open(Fresh, disk.Clock, NullLogger<Store>.Instance);
        Assert.Equal(1, restored.ReadCounts().ReadingsStored);
        Assert.Equal(2, disk.Store.ReadCounts().ReadingsStored);
        Assert.Equal(["copy.db", "fresh"], Directory.GetFileSystemEntries(_folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.NotNull(Backup.NewestOf(disk.Options));
    }

    [Fact]
    public async Task DirectoryWithData_IsRefusedOrSetAside()
    {
        await using (var disk = StoreOnDisk.Open())
        {
            Backup.Make(disk.Options, FilePath, StoreOnDisk.Start);
        }

        Backup.Restore(FilePath, Fresh, replace: false, StoreOnDisk.Start);
        Assert.Contains("--replace", Refusal(), StringComparison.Ordinal);
        var put = Backup.Restore(FilePath, Fresh, replace: true, StoreOnDisk.Start);
        Assert.True(File.Exists(Path.Combine(put.SetAside!, StoreOptions.FileName)));
    }

    [Fact]
    public async Task BadFiles_AreRefusedWithTheirReasonAndLeaveNoData()
    {
        await using var disk = StoreOnDisk.Open();
        Backup.Make(disk.Options, FilePath, StoreOnDisk.Start);
        var whole = await File.ReadAllBytesAsync(FilePath, StoreOnDisk.Stop);

        await File.WriteAllBytesAsync(FilePath, whole[..(whole.Length / 2)], StoreOnDisk.Stop);
        Assert.Contains("damaged", Refusal(), StringComparison.Ordinal);
        await File.WriteAllTextAsync(FilePath, "no database, only some words of text that go on for a while", StoreOnDisk.Stop);
        Assert.Contains("not a database", Refusal(), StringComparison.Ordinal);
        await File.WriteAllBytesAsync(FilePath, whole, StoreOnDisk.Stop);
        Change("PRAGMA user_version = 99");
        Assert.Contains("newer version", Refusal(), StringComparison.Ordinal);
        File.Delete(FilePath);
        Change("CREATE TABLE other (a)");
        Assert.Contains("not a database of FermentWatch", Refusal(), StringComparison.Ordinal);
        Assert.False(File.Exists(Fresh.DatabasePath));
    }

    private string Refusal() =>
        Assert.Throws<BackupException>(() => Backup.Restore(FilePath, Fresh, replace: false, StoreOnDisk.Start)).Message;

    private void Change(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={FilePath};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
