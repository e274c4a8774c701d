using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Everything out, and into an empty store again.</summary>
public sealed partial class Store
{
    /// <summary>Names of the tables that <see cref="WriteWhole"/> writes, in its order.</summary>
    public static IReadOnlyList<string> WholeTableNames { get; } = [.. WholeTables.Carried.Select(table => table.Name)];

    /// <summary>What <see cref="WriteWhole"/> leaves out, in words of the export.</summary>
    public static IReadOnlyList<string> WholeLeavesOut { get; } = [.. WholeTables.LeftOut.Values.OfType<string>().Distinct()];

    /// <summary>Writes every carried table as lines of JSON: the names of the columns, then an array for each row. All of it is one state of the database.</summary>
    /// <remarks>Batches and mappings of the configuration become those of the page: where they are taken in there is no such configuration.</remarks>
    /// <param name="configured">Mappings of the configuration.</param>
    /// <param name="open">Opens the stream of a table, which is closed before the next is opened.</param>
    /// <exception cref="StorageUnavailableException">The database cannot be read.</exception>
    public void WriteWhole(IReadOnlyList<TopicMapping> configured, Func<string, Stream> open)
    {
        ArgumentNullException.ThrowIfNull(configured);
        ArgumentNullException.ThrowIfNull(open);
        var now = ReceivedAt.From(_clock.GetUtcNow()).UnixMicroseconds;
        _reads.Read(read =>
        {
            foreach (var table in WholeTables.Carried)
            {
                using var stream = open(table.Name);
                using var rows = read.Statement($"SELECT * FROM {table.Name} WHERE {table.Only ?? "1"} ORDER BY {table.Order}").Rows();
                WholeLines.Write(stream, rows, table.Name == "batch" ? ("origin", "page") : null);
                if (table.Name == "mapping")
                {
                    var last = read.Statement("SELECT coalesce(max(id), 0) FROM mapping").Number() ?? 0;
                    foreach (var mapping in configured)
                    {
                        WholeLines.Write(
                            stream,
                            [++last, mapping.Sensor, mapping.Filter.Text, MappingRows.Fields(mapping), mapping.Time?.Source.Text, mapping.Time is { } time ? (long)time.Format : null, now, null]);
                    }
                }
            }

            return true;
        });
    }

    /// <summary>Takes in what <see cref="WriteWhole"/> wrote, in one transaction: all of it or nothing.</summary>
    /// <param name="open">Opens the stream of a table; null where the export has none, because an older version wrote it.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Rows by table.</returns>
    /// <exception cref="WholeImportException">The store is not empty, or the lines are not what this version can read: nothing was taken in.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyDictionary<string, long>> ReadWholeAsync(Func<string, Stream?> open, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(open);
        return WriteAsync<IReadOnlyDictionary<string, long>>(
            connection =>
            {
                foreach (var table in WholeTables.Carried)
                {
                    if (connection.Statement($"SELECT count(*) FROM {table.Name} WHERE {table.Only ?? "1"}").Number() > 0)
                    {
                        throw new WholeImportException($"The data directory is not empty: it has rows of '{table.Name}'. Give an empty or a new directory. Nothing was changed.");
                    }
                }

                var counts = new Dictionary<string, long>(StringComparer.Ordinal);
                foreach (var table in WholeTables.Carried)
                {
                    using var stream = open(table.Name);
                    counts[table.Name] = stream is null ? 0 : WholeLines.Read(connection, table.Name, stream);
                }

                MakeRollups(connection);
                // Rows came in past the notes: a copy elsewhere begins anew at the next start.
                connection.Statement("DELETE FROM follower").Run();
                connection.Memory.Changes.Forget();
                var last = connection.Statement("SELECT max(coalesce((SELECT max(n) FROM reading), 0), coalesce((SELECT max(n) FROM clock_fix), 0))").Number() ?? 0;
                connection.Statement("INSERT INTO cursor (name, sequence) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET sequence = max(sequence, excluded.sequence)").Run(ImportCursor, last);
                connection.Memory.Reach(last);
                return counts;
            },
            cancellationToken);
    }

    private static void MakeRollups(WriteConnection connection)
    {
        foreach (var width in RollupWidths.Seconds)
        {
            // The remainder of a division rounds toward zero: times before 1970 need a step further down.
            connection.Statement("""
                INSERT INTO rollup (series, width, start, n, min, max, sum)
                SELECT series, ?1, t - ((t % ?2) + ?2) % ?2, count(*), min(value), max(value), sum(value)
                FROM reading WHERE (quality & 2) = 0 GROUP BY series, t - ((t % ?2) + ?2) % ?2
                """).Run(width, width * 1_000_000L);
        }
    }
}

/// <summary>A full export cannot be taken in. The message says where and what would be right; nothing was changed.</summary>
public sealed class WholeImportException(string message, Exception? innerException = null) : Exception(message, innerException);

/// <summary>Rows as lines of JSON.</summary>
internal static class WholeLines
{
    private const string Bytes = "base64";

    /// <param name="stream">Where to.</param>
    /// <param name="rows">The rows.</param>
    /// <param name="fixedValue">A column whose value is the same in each row, or null.</param>
    public static void Write(Stream stream, SqliteDataReader rows, (string Column, string Value)? fixedValue)
    {
        var columns = Enumerable.Range(0, rows.FieldCount).Select(rows.GetName).ToList();
        Write(stream, columns);
        while (rows.Read())
        {
            Write(stream, columns.Select((column, at) => column == fixedValue?.Column ? fixedValue.Value.Value : rows.GetValue(at)));
        }
    }

    public static void Write(Stream stream, IEnumerable<object?> values)
    {
        using (var line = new Utf8JsonWriter(stream))
        {
            line.WriteStartArray();
            foreach (var value in values)
            {
                switch (value)
                {
                    case null or DBNull:
                        line.WriteNullValue();
                        break;
                    case long number:
                        line.WriteNumberValue(number);
                        break;
                    case double real:
                        line.WriteNumberValue(real);
                        break;
                    case byte[] bytes:
                        line.WriteStartObject();
                        line.WriteBase64String(Bytes, bytes);
                        line.WriteEndObject();
                        break;
                    default:
                        line.WriteStringValue((string)value);
                        break;
                }
            }

            line.WriteEndArray();
        }

        stream.WriteByte((byte)'\n');
    }

    public static long Read(WriteConnection connection, string table, Stream stream)
    {
        using var text = new StreamReader(stream);
        var number = 1L;
        try
        {
            var known = connection.Statement($"SELECT name FROM pragma_table_info('{table}')").List(row => row.GetString(0));
            var columns = JsonSerializer.Deserialize<string[]>(text.ReadLine() ?? "[]") ?? [];
            if (columns.Length == 0 || columns.FirstOrDefault(column => !known.Contains(column)) is not null || columns.Distinct().Count() != columns.Length)
            {
                throw new WholeImportException($"restore/{table}.jsonl, line 1: the columns are {string.Join(", ", columns)}; this version knows {string.Join(", ", known)}. Take it in with the version that wrote it, or a newer one.");
            }

            var insert = connection.Statement($"INSERT INTO {table} ({string.Join(", ", columns)}) VALUES ({string.Join(", ", columns.Select((_, at) => $"?{at + 1}"))})");
            var values = new object?[columns.Length];
            while (text.ReadLine() is { } line)
            {
                number++;
                using var row = JsonDocument.Parse(line);
                if (row.RootElement.ValueKind != JsonValueKind.Array || row.RootElement.GetArrayLength() != columns.Length)
                {
                    throw new WholeImportException($"restore/{table}.jsonl, line {number}: expected an array of {columns.Length} values, such as the first line has names.");
                }

                for (var at = 0; at < columns.Length; at++)
                {
                    values[at] = ValueOf(row.RootElement[at]);
                }

                insert.Run(values);
            }

            return number - 1;
        }
        catch (Exception fault) when (fault is JsonException or FormatException or InvalidOperationException or KeyNotFoundException
            || (fault is SqliteException { SqliteErrorCode: 19 or 20 or 25 }))
        {
            // Constraint, mismatch, range: the row's own fault, not the storage's.
            throw new WholeImportException($"restore/{table}.jsonl, line {number} cannot be taken in: {fault.Message}", fault);
        }
    }

    private static object? ValueOf(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Null => null,
        JsonValueKind.Number => value.TryGetInt64(out var whole) ? whole : value.GetDouble(),
        JsonValueKind.String => value.GetString(),
        JsonValueKind.Object => value.GetProperty(Bytes).GetBytesFromBase64(),
        _ => throw new FormatException($"{value.ValueKind} is no value of a row."),
    };
}
