using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard;

/// <summary>What one request for a page stands on: the snapshot, the reader, and where the page lies.</summary>
/// <param name="State">The snapshot with its versions.</param>
/// <param name="Reader">Zone and language.</param>
/// <param name="Options">Settings of the pages.</param>
/// <param name="Up">Relative way to the root of the pages: <c>./</c>, <c>../</c>, <c>../../</c>: links work under any path.</param>
/// <param name="Now">The clock.</param>
public sealed record Visit(BoardState State, Reader Reader, DashboardOptions Options, string Up, DateTimeOffset Now)
{
    /// <summary>Makes the token that a form of this page must carry, and its cookie.</summary>
    public Func<string> Token { get; init; } = () => "";

    /// <summary>Finds out where sensors send to; null tells what the options say.</summary>
    public Func<BrokerWay>? Way { get; init; }

    /// <summary>Where sensors send to.</summary>
    public BrokerWay Broker => Way?.Invoke() ?? new BrokerWay([Options.BrokerHost], Options.BrokerPort, IsThisMachineOnly: false);

    /// <summary>Counts the topics that were heard and wait for the reader's word; null counts none.</summary>
    public Func<int>? Waiting { get; init; }

    /// <summary>What the pages show.</summary>
    public BoardSnapshot Snapshot => State.Snapshot;

    /// <summary>Sentences at the moment of the snapshot.</summary>
    public Story Story => new(Reader, Snapshot.ComputedAt);

    /// <summary>Whether the computing stopped: the pages then say so.</summary>
    public bool IsStale => Now - Snapshot.ComputedAt > Options.StaleAfter;

    /// <summary>Relative link to a page of ours.</summary>
    public string Link(string path) => Up + path;

    /// <summary>Relative link to a batch's page.</summary>
    public string LinkTo(BoardEntry entry) => Link("batch/" + Uri.EscapeDataString((entry ?? throw new ArgumentNullException(nameof(entry))).View.Batch.Id.Value));

    /// <summary>The way from a path of ours to the root.</summary>
    public static string UpFrom(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        var depth = path.Skip(1).Count(letter => letter == '/');
        return depth == 0 ? "./" : string.Concat(Enumerable.Repeat("../", depth));
    }
}
