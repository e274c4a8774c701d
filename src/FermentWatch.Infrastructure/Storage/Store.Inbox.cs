using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>The inbox: messages as they came.</summary>
public sealed partial class Store
{
    /// <summary>Messages that <see cref="ReadUndecoded"/> gives at most, and that one transaction takes in.</summary>
    public const int DecodeBatch = 50;

    private const int PruneBatch = 200;

    /// <summary>Records a message (see <see cref="RecordMessage"/>). It completes after the fsync: only then may the message be acknowledged.</summary>
    /// <remarks>
    /// A redelivery is recognized by DUP flag, session, packet id, topic and payload, among the messages that can still be in flight.
    /// Anything else is a message of its own, equal bytes or not.
    /// </remarks>
    /// <exception cref="StorageUnavailableException">It is not on disk.</exception>
    public async ValueTask<InboxReceipt> RecordAsync(InboundMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        // Copied and hashed on the caller's thread: the payload's buffer may be the network's, and the writer has enough to do.
        var kept = InboxWriter.Kept(message);
        var hash = InboxWriter.Hash(kept, Math.Max(message.Size, message.Payload.Length));
        var item = new WorkItem<InboxReceipt>(connection => InboxWriter.Record(connection, message, kept, hash));
        await _queue.AddAsync(item, isMessage: true, cancellationToken).ConfigureAwait(false);
        return await item.Completion.ConfigureAwait(false);
    }

    /// <summary>Takes in that a deliverer has seen our acknowledgement of its messages up to a number (see <see cref="ConfirmAcknowledged"/>).</summary>
    /// <exception cref="StorageUnavailableException">It is not on disk.</exception>
    public async ValueTask ConfirmAcknowledgedAsync(string session, long sequence, CancellationToken cancellationToken)
    {
        var item = new WorkItem<bool>(connection =>
        {
            connection.Memory.Sessions.Confirm(session, sequence);
            return true;
        });
        await _queue.AddAsync(item, isMessage: true, cancellationToken).ConfigureAwait(false);
        await item.Completion.ConfigureAwait(false);
    }

    /// <summary>The next messages to decode, oldest first.</summary>
    public UndecodedMessages ReadUndecoded() => _reads.Read(read =>
    {
        var upTo = read.Statement("SELECT sequence FROM cursor WHERE name = ?1").Number(DecodeWriter.CursorName) ?? 0;
        using var rows = read.Statement("""
            SELECT inbox.sequence, topic.name, inbox.received, inbox.outcome, inbox.payload
            FROM inbox JOIN topic ON topic.id = inbox.topic WHERE inbox.sequence > ?1 ORDER BY inbox.sequence LIMIT ?2
            """).Rows(upTo, DecodeBatch);
        var messages = new List<InboxRow>();
        while (rows.Read())
        {
            upTo = rows.GetInt64(0);
            if ((InboxOutcome)rows.GetInt32(3) == InboxOutcome.Pending)
            {
                messages.Add(new InboxRow(upTo, rows.GetString(1), rows.Bytes(4), new ReceivedAt(rows.GetInt64(2))));
            }
        }

        return new UndecodedMessages(messages, upTo);
    });

    /// <summary>
    /// Writes readings, roll-ups, outcomes and the cursor of decoded messages in one transaction.
    /// When messages wait to be recorded it may stop after 5 ms: <see cref="DecodeReport.UpTo"/> says how far it came.
    /// </summary>
    /// <param name="messages">One for each message that <see cref="ReadUndecoded"/> gave; those decoded before are passed over.</param>
    /// <param name="upTo">The number that came with them.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="ArgumentException">A message that waits to be decoded up to that number is missing.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<DecodeReport> CommitDecodedAsync(IReadOnlyList<DecodedMessage> messages, long upTo, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(messages);
        return WriteAsync(connection => new DecodeWriter(connection, () => _queue.MessagesWait).Commit(messages, upTo), cancellationToken);
    }

    /// <summary>Deletes decoded messages that are too old or too many, in small pieces, and sessions long gone. The number of messages deleted.</summary>
    /// <exception cref="StorageUnavailableException">The last piece was not deleted.</exception>
    public Task<long> PruneAsync(CancellationToken cancellationToken) => PruneAsync(_options.InboxRetention, _options.InboxMaximumBytes, cancellationToken);

    /// <summary>The same with limits of the moment in place of those that the store was opened with.</summary>
    /// <param name="retention">How long a decoded raw message is kept; more than zero.</param>
    /// <param name="maximumBytes">How much room decoded raw messages may take. [bytes] More than zero.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">The last piece was not deleted.</exception>
    public async Task<long> PruneAsync(TimeSpan retention, long maximumBytes, CancellationToken cancellationToken)
    {
        var oldest = ReceivedAt.From(_clock.GetUtcNow()) - retention;
        long pruned = 0;
        int piece;
        do
        {
            piece = await WriteAsync(
                connection => InboxPruning.Prune(connection, oldest, maximumBytes, PruneBatch),
                cancellationToken).ConfigureAwait(false);
            pruned += piece;
        }
        while (piece > 0);
        await WriteAsync(connection => connection.Memory.Sessions.ForgetBefore(oldest.UnixMicroseconds), cancellationToken).ConfigureAwait(false);
        return pruned;
    }
}
