using System.Collections.Concurrent;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Said;

/// <summary>How often the 9-in-10 range has held in this cellar: each finished batch counts once, by what was said at half of its way.</summary>
/// <param name="Held">How often what came lay inside.</param>
/// <param name="Of">How many finished batches had a range by then.</param>
internal readonly record struct OwnRecord(int Held, int Of);

/// <summary>Reads what was said about batches, and compares it with what came.</summary>
/// <param name="store">Where forecasts are kept as they were made.</param>
internal sealed class SaidBook(Store store)
{
    private static readonly double[] Shares = [0.2, 0.35, 0.5, 0.65, 0.8];

    // The judgment of a finished batch changes only when what came does.
    private readonly ConcurrentDictionary<BatchId, (double Came, bool? Held)> _judged = new();

    /// <summary>What a batch came to: its gravity, once it has finished for good; null before.</summary>
    public static double? Came(BatchView view) => view.Stop.IsReadyToStabilize && view.LatestGravity is { } gravity ? gravity.Value.Value : null;

    /// <summary>What was said along a batch's way.</summary>
    public IReadOnlyList<SaidThen> Of(BatchView view) => [.. store.ReadSaid(view.Batch.Id, Moments(view)).Select(SaidThen.Of)];

    /// <summary>Our own record over the batches of the board.</summary>
    public OwnRecord Record(IEnumerable<BoardEntry> entries)
    {
        var (held, of) = (0, 0);
        foreach (var entry in entries)
        {
            if (Came(entry.View) is { } came && Judged(entry.View, came) is { } isHeld)
            {
                held += isHeld ? 1 : 0;
                of++;
            }
        }

        return new OwnRecord(held, of);
    }

    private bool? Judged(BatchView view, double came)
    {
        var id = view.Batch.Id;
        if (_judged.TryGetValue(id, out var known) && known.Came.Equals(came))
        {
            return known.Held;
        }

        var said = store.ReadSaid(id, [At(view, 0.5)]).Select(SaidThen.Of).FirstOrDefault();
        _judged[id] = (came, said?.Holds(came));
        return _judged[id].Held;
    }

    private static List<EventTime> Moments(BatchView view) => [.. Shares.Select(share => At(view, share))];

    // Up to the end where it has one, else up to now.
    private static EventTime At(BatchView view, double share)
    {
        var end = Came(view) is not null && view.Forecast?.Finish.P50 is { } finish && finish < view.Now ? finish : view.Now;
        return view.Batch.InoculatedAt + ((end - view.Batch.InoculatedAt) * share);
    }
}
