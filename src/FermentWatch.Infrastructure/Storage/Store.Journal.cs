using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A journal entry before it has a number.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="At">When it happened.</param>
/// <param name="Text">The maker's own words, at most 500 characters; may be empty.</param>
/// <param name="Gravity">Gravity measured by hand, or null.</param>
/// <param name="Supersedes">The entry of the same batch that this one replaces, or null.</param>
public sealed record JournalDraft(JournalKind Kind, EventTime At, string Text, SpecificGravity? Gravity = null, long? Supersedes = null)
{
    /// <summary>Values of the catalogue's fields.</summary>
    public ValueList<JournalValue> Values { get; init; } = ValueList.Of<JournalValue>();

    /// <summary>What of the text the house wrote itself; null where all of it is the maker's own.</summary>
    public FilledText? Filled { get; init; }

    /// <summary>A photo that is stored with the entry, in one transaction; null for none.</summary>
    public Photo? Photo { get; init; }

    /// <summary>Number of a photo of the batch that was stored before; null for none.</summary>
    public long? KeptPhoto { get; init; }

    /// <summary>Why the entry replaces another; null where it does not.</summary>
    public string? Because { get; init; }

    /// <summary>Name of whoever writes it; null where nobody had to sign in.</summary>
    public string? By { get; init; }
}

/// <summary>An entry with its own history.</summary>
/// <param name="Entry">The entry.</param>
/// <param name="WrittenAt">When it was written.</param>
/// <param name="UndoneAt">When it was taken back; null where it was not.</param>
public sealed record JournalLine(JournalEntry Entry, ReceivedAt WrittenAt, ReceivedAt? UndoneAt);

/// <summary>The journal: facts that are added and taken back, never changed.</summary>
public sealed partial class Store
{
    /// <summary>Adds an entry to a batch's journal and raises the batch's revision.</summary>
    /// <param name="batch">Which batch.</param>
    /// <param name="draft">The entry.</param>
    /// <param name="externalKey">A key of the caller's, unique over all batches: an entry under a known key is not added again. Null for none.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>The number of the entry, or of the one with that key.</returns>
    /// <exception cref="ArgumentException">No such batch, no such entry to supersede, or more than 500 characters.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public async Task<long> AppendJournalAsync(BatchId batch, JournalDraft draft, string? externalKey, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(draft);
        if (draft.Text.Length > 500)
        {
            throw new ArgumentException($"The text of a journal entry has {draft.Text.Length} characters; at most 500 are kept.", nameof(draft));
        }

        var now = ReceivedAt.From(_clock.GetUtcNow());
        var (id, _) = await WriteAsync(
            connection => JournalRows.Append(connection, batch, draft, externalKey, now), cancellationToken).ConfigureAwait(false);
        return id;
    }

    /// <summary>Takes an entry back; it stays in the journal as undone. Raises the batch's revision.</summary>
    /// <returns>False when the batch has no such entry, or it was taken back before.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> UndoJournalAsync(BatchId batch, long id, CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(_clock.GetUtcNow());
        return WriteAsync(connection => JournalRows.Undo(connection, batch, id, now), cancellationToken);
    }

    /// <summary>All entries of a batch, superseded and undone ones included, by time.</summary>
    public IReadOnlyList<JournalEntry> ReadJournal(BatchId batch) => _reads.Read<IReadOnlyList<JournalEntry>>(read => JournalRows.Read(read, batch));

    /// <summary>The same entries, each with when it was written and taken back.</summary>
    public IReadOnlyList<JournalLine> ReadJournalLines(BatchId batch) => _reads.Read<IReadOnlyList<JournalLine>>(read => JournalRows.Lines(read, batch));
}
