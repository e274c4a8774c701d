using System.Diagnostics;
using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>One transaction of decoded messages: readings, roll-ups, outcomes, counts and the cursor.</summary>
internal sealed class DecodeWriter
{
    /// <summary>Name of the decoder's cursor.</summary>
    public const string CursorName = "decoded";

    /// <summary>A message gave two numbers for one series at one time: only the first can be a reading.</summary>
    public const string SameSeriesTwice = "same-series-twice";

    /// <summary>How much of a topic's last message is kept for showing. [bytes]</summary>
    private const int KeptOfLast = 256;

    /// <summary>How long the transaction may go on while messages wait to be recorded.</summary>
    private static readonly TimeSpan TimeWhileOthersWait = TimeSpan.FromMilliseconds(5);

    private readonly WriteConnection _connection;
    private readonly Func<bool> _messagesWait;
    private readonly RollupWriter _rollups;
    private readonly ReadingWriter _readings;
    private readonly HashSet<SeriesKey> _series = [];
    private readonly HashSet<BatchId> _batches = [];
    private readonly Dictionary<long, (Arrival Last, long Messages)> _topics = [];
    private int _stored;
    private int _known;
    private int _corrected;
    private int _rejected;
    private int _repaired;

    public DecodeWriter(WriteConnection connection, Func<bool> messagesWait)
    {
        _connection = connection;
        _messagesWait = messagesWait;
        _rollups = new RollupWriter(connection);
        _readings = new ReadingWriter(connection, _rollups);
    }

    /// <summary>Writes what was decoded of the messages behind the cursor and up to a number.</summary>
    public DecodeReport Commit(IReadOnlyList<DecodedMessage> messages, long upTo)
    {
        var since = Stopwatch.GetTimestamp();
        var cursor = _connection.Statement("SELECT sequence FROM cursor WHERE name = ?1").Number(CursorName) ?? 0;
        var bySequence = messages.ToDictionary(message => message.Sequence);
        var arrivals = _connection.Statement("""
            SELECT sequence, topic, received, size, outcome, length(payload) FROM inbox WHERE sequence > ?1 AND sequence <= ?2 ORDER BY sequence LIMIT ?3
            """).List(Arrival.Of, cursor, upTo, Storage.Store.DecodeBatch);
        foreach (var arrival in arrivals)
        {
            Write(arrival, bySequence);
            cursor = arrival.Sequence;
            if (Stopwatch.GetElapsedTime(since) > TimeWhileOthersWait && _messagesWait())
            {
                break;
            }
        }

        Finish(cursor);
        return new DecodeReport(cursor, _stored, _known, _corrected, _rejected, _repaired, _series, _batches);
    }

    private void Write(Arrival arrival, Dictionary<long, DecodedMessage> bySequence)
    {
        var outcome = arrival.Outcome;
        if (outcome == InboxOutcome.Pending)
        {
            if (!bySequence.TryGetValue(arrival.Sequence, out var message))
            {
                throw new ArgumentException($"Message {arrival.Sequence} waits to be decoded and is missing among the decoded ones.");
            }

            var rejections = new List<RejectedField>(message.Rejections);
            outcome = Keep(arrival, message, rejections);
            foreach (var rejection in rejections)
            {
                _connection.Memory.Count(OutcomeTally.OfReason(rejection.Because.Code), 1);
            }

            _connection.Statement("UPDATE inbox SET outcome = ?2, reasons = ?3 WHERE sequence = ?1")
                .Run(arrival.Sequence, (int)outcome, ReasonJson.Write(rejections));
        }

        _connection.Memory.Count(OutcomeTally.Of(outcome), 1);
        _connection.Memory.Count(InboxPruning.RoomTally, arrival.Kept + InboxPruning.RoomBesidePayload);
        _topics[arrival.Topic] = (arrival with { Outcome = outcome }, _topics.GetValueOrDefault(arrival.Topic).Messages + 1);
    }

    private InboxOutcome Keep(Arrival arrival, DecodedMessage message, List<RejectedField> rejections)
    {
        var known = 0;
        var stored = 0;
        foreach (var field in message.Fields)
        {
            if (!double.IsFinite(field.Raw) || !double.IsFinite(field.Value))
            {
                // The table refuses them, and one such number must not hold up all messages behind it.
                rejections.Add(new RejectedField(string.Empty, Reason.Of(DecodeReasons.NumberNotFinite, new ReasonValue.Name(Text(field)))));
                continue;
            }

            var (fate, clock) = _readings.Store(arrival.Sequence, arrival.ReceivedAt, field);
            if (fate == ReadingFate.Known)
            {
                known++;
                continue;
            }

            if (fate == ReadingFate.Refused)
            {
                rejections.Add(new RejectedField(string.Empty, Reason.Of(SameSeriesTwice, new ReasonValue.Name(field.Sensor.Value))));
                continue;
            }

            stored++;
            _corrected += fate == ReadingFate.Corrected ? 1 : 0;
            _repaired += clock.Trusted ? 0 : 1;
            _series.Add(new SeriesKey(field.Sensor, field.Quantity));
            _batches.UnionWith(_connection.Memory.Attachments.BatchesOf(field.Sensor, clock.At));
        }

        _stored += stored;
        _known += known;
        _rejected += rejections.Count;
        return (stored + known, rejections.Count) switch
        {
            (0, 0) => InboxOutcome.NotMapped,
            (0, _) => InboxOutcome.Rejected,
            (_, > 0) => InboxOutcome.PartlyRejected,
            _ => stored == 0 ? InboxOutcome.Known : InboxOutcome.Stored,
        };
    }

    private static string Text(DecodedField field) => field.Raw.ToString(CultureInfo.InvariantCulture);

    private void Finish(long cursor)
    {
        _rollups.Flush();
        foreach (var (topic, (last, messages)) in _topics)
        {
            _connection.Statement("""
                UPDATE topic SET messages = messages + ?2, last_sequence = ?3, last_received = ?4, last_size = ?5, last_outcome = ?6,
                last_payload = (SELECT substr(payload, 1, ?7) FROM inbox WHERE sequence = ?3) WHERE id = ?1
                """).Run(topic, messages, last.Sequence, last.ReceivedAt.UnixMicroseconds, last.Size, (int)last.Outcome, KeptOfLast);
        }

        _connection.Memory.Count(OutcomeTally.ReadingsStored, _stored);
        _connection.Memory.Count(OutcomeTally.ReadingsKnown, _known);
        _connection.Memory.Count(OutcomeTally.ReadingsCorrected, _corrected);
        _connection.Memory.Count(OutcomeTally.FieldsRejected, _rejected);
        _connection.Memory.Count(OutcomeTally.ClocksRepaired, _repaired);
        _connection.Statement("INSERT INTO cursor (name, sequence) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET sequence = excluded.sequence")
            .Run(CursorName, cursor);
    }

    private sealed record Arrival(long Sequence, long Topic, ReceivedAt ReceivedAt, int Size, InboxOutcome Outcome, int Kept)
    {
        public static Arrival Of(SqliteDataReader row) => new(
            row.GetInt64(0), row.GetInt64(1), new ReceivedAt(row.GetInt64(2)), row.GetInt32(3), (InboxOutcome)row.GetInt32(4), row.GetInt32(5));
    }
}

/// <summary>Names of the counts that outlive the inbox.</summary>
internal static class OutcomeTally
{
    public const string ReadingsStored = "readings-stored";

    public const string ReadingsKnown = "readings-known";

    public const string ReadingsCorrected = "readings-corrected";

    public const string FieldsRejected = "fields-rejected";

    public const string ClocksRepaired = "clocks-repaired";

    private const string Prefix = "outcome-";

    /// <summary>Begin of the tallies of reasons: the codes are ours, so there are only so many.</summary>
    public const string ReasonPrefix = "rejected-";

    /// <summary>The tally of a reason.</summary>
    public static string OfReason(string code) => ReasonPrefix + code;

    /// <summary>The tally of an outcome.</summary>
    public static string Of(InboxOutcome outcome) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{(int)outcome}");
}
