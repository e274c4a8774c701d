using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Reads a journal: which entries count, and how they appear on the time line.</summary>
public static class JournalReading
{
    /// <summary>Entries at or before <paramref name="until"/> that were neither taken back nor replaced, by time.</summary>
    /// <remarks>An entry whose replacement was itself taken back counts again. Exact repeats count once.</remarks>
    public static IReadOnlyList<JournalEntry> Active(IReadOnlyList<JournalEntry> journal, EventTime until)
    {
        ArgumentNullException.ThrowIfNull(journal);
        var replaced = new HashSet<long>();
        foreach (var entry in journal)
        {
            if (!entry.Undone && entry.Supersedes is { } old && old != entry.Id)
            {
                replaced.Add(old);
            }
        }

        var active = new Dictionary<long, JournalEntry>();
        var undone = new HashSet<long>();
        foreach (var entry in journal)
        {
            if (entry.Undone)
            {
                undone.Add(entry.Id);
            }
            else if (entry.At <= until && !replaced.Contains(entry.Id))
            {
                // Two different lines under one number cannot be: if they are, the choice must not depend on their order.
                if (!active.TryGetValue(entry.Id, out var other) || Compare(entry, other) < 0)
                {
                    active[entry.Id] = entry;
                }
            }
        }

        var list = new List<JournalEntry>(active.Count);
        foreach (var entry in active.Values)
        {
            if (!undone.Contains(entry.Id))
            {
                list.Add(entry);
            }
        }

        list.Sort(Compare);
        return list;
    }

    /// <summary>The entry as an event: its code is <c>journal-</c> and the kind in words; {0} the maker's text, {1} gravity where measured.</summary>
    public static TimelineEvent ToEvent(JournalEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ReasonValue text = entry.Filled is { } filled ? new ReasonValue.Filled(entry.Text, filled) : new ReasonValue.Name(entry.Text);
        return new TimelineEvent(
            entry.At,
            entry.Kind,
            entry.Gravity is { } gravity
                ? Reason.Of(CodeOf(entry.Kind), text, new ReasonValue.Gravity(gravity.Value))
                : Reason.Of(CodeOf(entry.Kind), text));
    }

    private static string CodeOf(JournalKind kind) => "journal-" + JournalCatalog.Of(kind).Key;

    private static int Compare(JournalEntry left, JournalEntry right)
    {
        var order = left.At.CompareTo(right.At);
        order = order != 0 ? order : left.Id.CompareTo(right.Id);
        order = order != 0 ? order : left.Kind.CompareTo(right.Kind);
        order = order != 0 ? order : string.CompareOrdinal(left.Text, right.Text);
        return order != 0 ? order : (left.Gravity?.Value ?? 0).CompareTo(right.Gravity?.Value ?? 0);
    }
}
