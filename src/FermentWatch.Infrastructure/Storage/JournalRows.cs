using System.Text.Json;
using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a journal entry holds beside kind and time, as stored.</summary>
/// <param name="Text">The maker's own words.</param>
/// <param name="Gravity">Specific gravity 20/20 measured by hand, or null.</param>
/// <param name="Values">Values of the catalogue's fields, or null for none.</param>
/// <param name="Because">Why the entry replaces another, or null.</param>
/// <param name="By">Who wrote it, or null.</param>
/// <param name="Photo">Number of its photo, or null.</param>
/// <param name="Filled">What of the text the house wrote itself, or null.</param>
internal sealed record JournalBody(
    string Text, double? Gravity, IReadOnlyList<JournalValue>? Values = null, string? Because = null, string? By = null, long? Photo = null, FilledText? Filled = null);

/// <summary>How journal bodies become JSON.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(JournalBody))]
[JsonSerializable(typeof(FilledValue[]))]
internal sealed partial class JournalJson : JsonSerializerContext;

/// <summary>Journal entries between table and type.</summary>
internal static class JournalRows
{
    /// <summary>All entries of a batch, superseded and undone ones included, by time, then number.</summary>
    public static List<JournalEntry> Read(ReadConnection read, BatchId batch) => read
        .Statement("SELECT id, kind, at, body, supersedes, undone_at FROM journal WHERE batch = ?1 ORDER BY at, id")
        .List(Entry, batch.Value);

    /// <summary>The same with when each was written and taken back.</summary>
    public static List<JournalLine> Lines(ReadConnection read, BatchId batch) => read
        .Statement("SELECT id, kind, at, body, supersedes, undone_at, written_at FROM journal WHERE batch = ?1 ORDER BY at, id")
        .List(
            row => new JournalLine(
                Entry(row), new ReceivedAt(row.GetInt64(6)), row.NumberOrNull(5) is { } undone ? new ReceivedAt(undone) : null),
            batch.Value);

    private static JournalEntry Entry(SqliteDataReader row) => EntryOf(
        row.GetInt64(0), (JournalKind)row.GetInt32(1), new EventTime(row.GetInt64(2)), row.GetString(3), row.NumberOrNull(4), !row.IsDBNull(5));

    /// <summary>An entry from its stored parts.</summary>
    /// <exception cref="JsonException">The body is not what a journal holds.</exception>
    public static JournalEntry EntryOf(long id, JournalKind kind, EventTime at, string json, long? supersedes, bool undone)
    {
        var body = JsonSerializer.Deserialize(json, JournalJson.Default.JournalBody) ?? throw new JsonException("The body of a journal entry is null.");
        return new JournalEntry(
            id,
            kind,
            at,
            body.Text,
            body.Gravity is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
            supersedes,
            undone)
        {
            Values = ValueList.Of<JournalValue>(body.Values ?? []),
            Because = body.Because,
            By = body.By,
            Photo = body.Photo,
            Filled = body.Filled,
        };
    }

    /// <summary>Adds an entry, unless its external key is there already. Its number, and whether it is new.</summary>
    public static (long Id, bool IsNew) Append(WriteConnection connection, BatchId batch, JournalDraft draft, string? externalKey, ReceivedAt writtenAt)
    {
        if (externalKey is not null
            && connection.Statement("SELECT id FROM journal WHERE external_key = ?1").Number(externalKey) is { } known)
        {
            return (known, false);
        }

        Require(connection, batch, draft.Supersedes);
        var photo = draft.Photo is { } made ? PhotoRows.Add(connection, batch, made) : draft.KeptPhoto;
        var body = JsonSerializer.Serialize(new JournalBody(draft.Text, draft.Gravity?.Value, draft.Values.Count > 0 ? [.. draft.Values] : null, draft.Because, draft.By, photo, draft.Filled), JournalJson.Default.JournalBody);
        var id = connection.Statement("""
            INSERT INTO journal (batch, kind, at, body, supersedes, written_at, external_key) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING id
            """).Number(
            batch.Value, (int)draft.Kind, draft.At.UnixMicroseconds, body, draft.Supersedes, writtenAt.UnixMicroseconds, externalKey)
            ?? throw new InvalidOperationException("The journal table returned no number for a new row.");
        BatchRows.Revise(connection, batch.Value);
        return (id, true);
    }

    /// <summary>Takes an entry back. False when there is none of that number in the batch, or it was taken back before.</summary>
    public static bool Undo(WriteConnection connection, BatchId batch, long id, ReceivedAt undoneAt)
    {
        var undone = connection.Statement("UPDATE journal SET undone_at = ?3 WHERE id = ?1 AND batch = ?2 AND undone_at IS NULL")
            .Run(id, batch.Value, undoneAt.UnixMicroseconds) > 0;
        if (undone)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return undone;
    }

    private static void Require(WriteConnection connection, BatchId batch, long? supersedes)
    {
        if (connection.Statement("SELECT 1 FROM batch WHERE id = ?1").Number(batch.Value) is null)
        {
            throw new ArgumentException($"There is no batch '{batch.Value}' to which a journal entry could be added.");
        }

        if (supersedes is { } old && connection.Statement("SELECT 1 FROM journal WHERE id = ?1 AND batch = ?2").Number(old, batch.Value) is null)
        {
            throw new ArgumentException($"The journal of batch '{batch.Value}' has no entry {old} that could be superseded.");
        }
    }
}
