using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Databases of every schema there was, brought up to the present one: rows equal, a copy kept, and cut off anywhere without loss.</summary>
public sealed class UpgradeTests(ITestOutputHelper output) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-upgrade-").FullName;

    public static TheoryData<int> Schemas => [.. Enumerable.Range(1, Migrations.Present - 1)];

    private static string Fixtures => Path.Combine(AppContext.BaseDirectory, "ReferenceData", "schemas");

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void EverySchemaBeforeThePresentOne_HasAFixture() =>
        Assert.Equal(Enumerable.Range(1, Migrations.Present - 1), Directory.GetFiles(Fixtures, "schema-*.sql").Select(file => int.Parse(Path.GetFileNameWithoutExtension(file)[7..], CultureInfo.InvariantCulture)).Order());

    [Theory]
    [MemberData(nameof(Schemas))]
    public async Task OldDatabase_KeepsEveryRowAndACopyOfItself(int schema)
    {
        var options = Old(schema, "whole");
        var before = Rows(options.DatabasePath, null);

        await using (var store = Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance))
        {
            Assert.Equal(2, store.ReadSeries().Count(series => series.Series.Sensor.Value == "carboy3"));
            Assert.Equal(40, store.ReadReadings(store.ReadSeries()[0].Series, new(long.MinValue / 2), new(long.MaxValue / 2)).Count);
            Assert.Equal("Heather mead", store.ReadBatch(new("heather"))!.Facts.Batch.Name);
        }

        AssertSame(before, Rows(options.DatabasePath, before));
        Assert.Equal(Migrations.Present, Number(options.DatabasePath, "PRAGMA user_version"));
        var copy = options.CopyBeforeUpgrade(schema);
        Assert.Equal(schema, Number(copy, "PRAGMA user_version"));
        AssertSame(before, Rows(copy, before));

        // The way back: the copy is a backup like any other.
        var back = new StoreOptions(Path.Combine(_folder, "back"));
        Assert.Equal(schema, Backup.Restore(copy, back, replace: false, StoreOnDisk.Start).Schema);
        AssertSame(before, Rows(back.DatabasePath, before));
    }

    [Theory]
    [MemberData(nameof(Schemas))]
    public async Task UpgradeCutOffBeforeAnyStatement_GoesThroughAtTheNextStart(int schema)
    {
        var whole = Old(schema, "source");
        var before = Rows(whole.DatabasePath, null);
        var images = new List<string>();
        using (var connection = WriteConnection.Open(whole.DatabasePath, maximumPages: null))
        {
            connection.Migrate(whole.DatabasePath, keepCopy: null, before: _ => images.Add(ImageOf(whole, images.Count)));
        }

        Assert.True(images.Count >= (Migrations.Present - schema) * 4, $"Only {images.Count} statements.");
        var bricked = 0;
        foreach (var image in images)
        {
            var options = new StoreOptions(image);
            await using (Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance))
            {
            }

            bricked += Number(options.DatabasePath, "PRAGMA user_version") == Migrations.Present && Same(before, Rows(options.DatabasePath, before)) ? 0 : 1;
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"from schema {schema}: cut off before {images.Count} statements, {bricked} lost anything"));
        Assert.Equal(0, bricked);
    }

    [Theory]
    [MemberData(nameof(Schemas))]
    public async Task DiskFullDuringTheUpgrade_LeavesTheOldDatabaseAndGoesThroughLater(int schema)
    {
        var options = Old(schema, "full");
        var before = Rows(options.DatabasePath, null);
        var pages = (int)Number(options.DatabasePath, "PRAGMA page_count");
        using (var connection = WriteConnection.Open(options.DatabasePath, pages))
        {
            // 13: the database or disk is full [SQLite result codes, sqlite.org/rescode.html].
            Assert.Equal(13, Assert.Throws<SqliteException>(() => connection.Migrate(options.DatabasePath)).SqliteErrorCode);
        }

        AssertSame(before, Rows(options.DatabasePath, before));
        await using (Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance))
        {
        }

        AssertSame(before, Rows(options.DatabasePath, before));
    }

    [Fact]
    public void CopyThatCannotBeKept_StopsTheStartBeforeAnythingChanges()
    {
        var options = Old(1, "no-room");
        File.WriteAllText(Path.Combine(options.DataDirectory, Backup.FolderName), "a file in the way");

        var refused = Assert.Throws<DataDirectoryException>(() => { Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance); });

        Assert.Contains("Nothing was changed", refused.Message, StringComparison.Ordinal);
        Assert.Equal(1, Number(options.DatabasePath, "PRAGMA user_version"));
    }

    [Fact]
    public async Task LargeDatabase_IsBroughtUpInMoments()
    {
        var options = Old(3, "large");
        const int rows = 200_000;
        Number(options.DatabasePath, $"""
            WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {rows})
            INSERT INTO reading SELECT 3, 1000000 * i, 1000 + i, NULL, 0, 1, NULL, 1.05, 0 FROM n; SELECT count(*) FROM reading
            """);
        var watch = Stopwatch.StartNew();
        await using (Store.Open(options, TimeProvider.System, NullLogger<Store>.Instance))
        {
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"upgrade of {rows} rows with its copy: {watch.Elapsed.TotalSeconds:0.00} s"));
        Assert.Equal(rows + 81, Number(options.DatabasePath, "SELECT count(*) FROM reading"));
    }

    /// <summary>What a power cut at this moment would leave: the file and its log as they are on disk.</summary>
    private string ImageOf(StoreOptions source, int number)
    {
        var image = Directory.CreateDirectory(Path.Combine(_folder, $"image-{number}")).FullName;
        foreach (var end in (string[])["", "-wal"])
        {
            if (File.Exists(source.DatabasePath + end))
            {
                using var from = new FileStream(source.DatabasePath + end, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
                using var to = File.Create(Path.Combine(image, StoreOptions.FileName + end));
                from.CopyTo(to);
            }
        }

        return image;
    }

    private StoreOptions Old(int schema, string name)
    {
        var options = new StoreOptions(Directory.CreateDirectory(Path.Combine(_folder, name)).FullName);
        using var connection = new SqliteConnection($"Data Source={options.DatabasePath};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = File.ReadAllText(Path.Combine(Fixtures, $"schema-{schema}.sql"));
        command.ExecuteNonQuery();
        return options;
    }

    /// <summary>Each table with its columns, its rows and a hash of them; only the tables and columns of <paramref name="like"/> where that is given.</summary>
    private static SortedDictionary<string, (string Columns, long Rows, string Hash)> Rows(string path, SortedDictionary<string, (string Columns, long Rows, string Hash)>? like)
    {
        using var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        var tables = new SortedDictionary<string, (string, long, string)>(StringComparer.Ordinal);
        foreach (var table in like?.Keys.ToList() ?? [.. Column(connection, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'")])
        {
            var columns = like?[table].Columns ?? string.Join(", ", Column(connection, $"SELECT name FROM pragma_table_info('{table}')"));
            var text = new StringBuilder();
            var count = 0L;
            using var command = connection.CreateCommand();
            command.CommandText = $"SELECT {columns} FROM {table} ORDER BY {columns}";
            using var rows = command.ExecuteReader();
            while (rows.Read())
            {
                count++;
                for (var at = 0; at < rows.FieldCount; at++)
                {
                    text.Append(rows.GetValue(at) is byte[] bytes ? Convert.ToHexString(bytes) : Convert.ToString(rows.GetValue(at), CultureInfo.InvariantCulture)).Append('\u001f');
                }
            }

            tables[table] = (columns, count, Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString()))));
        }

        return tables;
    }

    private static List<string> Column(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var rows = command.ExecuteReader();
        var all = new List<string>();
        while (rows.Read())
        {
            all.Add(rows.GetString(0));
        }

        return all;
    }

    private static bool Same(SortedDictionary<string, (string Columns, long Rows, string Hash)> one, SortedDictionary<string, (string Columns, long Rows, string Hash)> other) => one.SequenceEqual(other);

    private static void AssertSame(SortedDictionary<string, (string Columns, long Rows, string Hash)> expected, SortedDictionary<string, (string Columns, long Rows, string Hash)> actual)
    {
        Assert.True(expected.Count >= 18, $"Only {expected.Count} tables were compared.");
        Assert.Equal(expected, actual);
    }

    private static long Number(string path, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToInt64(command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }
}
