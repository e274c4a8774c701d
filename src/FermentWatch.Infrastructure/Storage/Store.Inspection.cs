using System.Globalization;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Counts over the life of the store.</summary>
/// <param name="Waiting">Messages that wait to be decoded.</param>
/// <param name="Messages">Decoded messages by what became of them.</param>
/// <param name="Redelivered">Redeliveries that were recognized, and added nothing.</param>
/// <param name="ReadingsStored">Readings stored, corrections included.</param>
/// <param name="ReadingsKnown">Readings left out, since the same value at the same device time was there.</param>
/// <param name="ReadingsCorrected">Readings that corrected an earlier one.</param>
/// <param name="FieldsRejected">Fields that could not be read.</param>
/// <param name="ClocksRepaired">Readings whose clock was not trusted.</param>
public sealed record StoreCounts(
    long Waiting,
    IReadOnlyDictionary<InboxOutcome, long> Messages,
    long Redelivered,
    long ReadingsStored,
    long ReadingsKnown,
    long ReadingsCorrected,
    long FieldsRejected,
    long ClocksRepaired)
{
    /// <summary>Fields that could not be read, by the code of the reason.</summary>
    public IReadOnlyDictionary<string, long> RejectedByReason { get; init; } = new Dictionary<string, long>();
}

/// <summary>A message that could not be read, or not wholly.</summary>
/// <param name="Sequence">Its number.</param>
/// <param name="Topic">Full topic.</param>
/// <param name="ReceivedAt">Arrival.</param>
/// <param name="Size">Size on the wire. [bytes]</param>
/// <param name="FirstBytes">Its first bytes, at most 256.</param>
/// <param name="Outcome">Partly rejected, rejected, or too large.</param>
/// <param name="Rejections">What could not be read and why; empty when it was too large.</param>
public sealed record RefusedMessage(
    long Sequence,
    string Topic,
    ReceivedAt ReceivedAt,
    int Size,
    ReadOnlyMemory<byte> FirstBytes,
    InboxOutcome Outcome,
    IReadOnlyList<RejectedField> Rejections);

/// <summary>A mapped topic and its newest message that was decoded.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="Messages">Messages so far.</param>
/// <param name="LastReceivedAt">Arrival of the newest.</param>
/// <param name="LastSize">Its size on the wire. [bytes]</param>
/// <param name="LastOutcome">What became of it.</param>
/// <param name="FirstBytes">Its first bytes, at most 256.</param>
public sealed record TopicSummary(
    string Topic,
    long Messages,
    ReceivedAt LastReceivedAt,
    int LastSize,
    InboxOutcome LastOutcome,
    ReadOnlyMemory<byte> FirstBytes);

/// <summary>Looking into what came and what became of it.</summary>
public sealed partial class Store
{
    /// <summary>Counts over the life of the store, beyond the pruning of the inbox.</summary>
    public StoreCounts ReadCounts() => _reads.Read(read =>
    {
        var tallies = read.Statement("SELECT name, count FROM tally")
            .List(row => (Name: row.GetString(0), Count: row.GetInt64(1)))
            .ToDictionary(pair => pair.Name, pair => pair.Count, StringComparer.Ordinal);
        var cursor = read.Statement("SELECT sequence FROM cursor WHERE name = ?1").Number(DecodeWriter.CursorName) ?? 0;
        return new StoreCounts(
            read.Statement("SELECT count(*) FROM inbox WHERE sequence > ?1").Number(cursor) ?? 0,
            Enum.GetValues<InboxOutcome>()
                .Where(outcome => outcome != InboxOutcome.Pending)
                .ToDictionary(outcome => outcome, outcome => tallies.GetValueOrDefault(OutcomeTally.Of(outcome))),
            tallies.GetValueOrDefault(InboxWriter.RedeliveryTally),
            tallies.GetValueOrDefault(OutcomeTally.ReadingsStored),
            tallies.GetValueOrDefault(OutcomeTally.ReadingsKnown),
            tallies.GetValueOrDefault(OutcomeTally.ReadingsCorrected),
            tallies.GetValueOrDefault(OutcomeTally.FieldsRejected),
            tallies.GetValueOrDefault(OutcomeTally.ClocksRepaired))
        {
            RejectedByReason = tallies.Where(pair => pair.Key.StartsWith(OutcomeTally.ReasonPrefix, StringComparison.Ordinal))
                .ToDictionary(pair => pair.Key[OutcomeTally.ReasonPrefix.Length..], pair => pair.Value),
        };
    });

    /// <summary>Messages of the inbox that could not be read, or not wholly, newest first.</summary>
    public IReadOnlyList<RefusedMessage> ReadRefused(int limit) => _reads.Read<IReadOnlyList<RefusedMessage>>(read => read
        .Statement(string.Create(CultureInfo.InvariantCulture, $"""
            SELECT inbox.sequence, topic.name, inbox.received, inbox.size, substr(inbox.payload, 1, {InboxWriter.KeptOfTooLarge}), inbox.outcome, inbox.reasons
            FROM inbox JOIN topic ON topic.id = inbox.topic WHERE inbox.outcome IN (3, 4, 5) ORDER BY inbox.sequence DESC LIMIT ?1
            """))
        .List(
            row => new RefusedMessage(
                row.GetInt64(0),
                row.GetString(1),
                new ReceivedAt(row.GetInt64(2)),
                row.GetInt32(3),
                row.Bytes(4),
                (InboxOutcome)row.GetInt32(5),
                ReasonJson.Read(row.TextOrNull(6))),
            limit));

    /// <summary>Mapped topics from which a message was decoded, by name.</summary>
    public IReadOnlyList<TopicSummary> ReadTopics() => _reads.Read<IReadOnlyList<TopicSummary>>(read => read
        .Statement("""
            SELECT name, messages, last_received, last_size, last_outcome, last_payload FROM topic WHERE last_sequence IS NOT NULL ORDER BY name
            """)
        .List(row => new TopicSummary(
            row.GetString(0),
            row.GetInt64(1),
            new ReceivedAt(row.GetInt64(2)),
            row.GetInt32(3),
            (InboxOutcome)row.GetInt32(4),
            row.Bytes(5))));
}
