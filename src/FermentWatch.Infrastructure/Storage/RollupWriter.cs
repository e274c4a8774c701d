using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Gathers the roll-ups of one transaction, so that a bucket is written once for many readings.</summary>
internal sealed class RollupWriter(WriteConnection connection)
{
    private const long MicrosecondsPerSecond = 1_000_000;

    private readonly Dictionary<(long Series, int Width, long Start), Gathered> _gathered = [];

    /// <summary>Takes in a new reading.</summary>
    public void Add(long series, EventTime at, double value)
    {
        foreach (var width in RollupWidths.Seconds)
        {
            var key = (series, width, StartOf(at.UnixMicroseconds, width));
            _gathered[key] = _gathered.TryGetValue(key, out var so) ? so.With(value) : new Gathered(1, value, value, value, IsStale: false);
        }
    }

    /// <summary>A correction changed which values count: the bucket is computed anew from its readings.</summary>
    public void Recompute(long series, EventTime at)
    {
        foreach (var width in RollupWidths.Seconds)
        {
            _gathered[(series, width, StartOf(at.UnixMicroseconds, width))] = new Gathered(0, 0, 0, 0, IsStale: true);
        }
    }

    /// <summary>Writes the buckets, after all readings of the transaction.</summary>
    public void Flush()
    {
        foreach (var ((series, width, start), gathered) in _gathered)
        {
            if (gathered.IsStale)
            {
                // Its readings may all be gone from it.
                connection.Statement("DELETE FROM rollup WHERE series = ?1 AND width = ?2 AND start = ?3").Run(series, width, start);
                connection.Statement("""
                    INSERT OR REPLACE INTO rollup (series, width, start, n, min, max, sum)
                    SELECT ?1, ?2, ?3, count(*), min(value), max(value), sum(value)
                    FROM reading WHERE series = ?1 AND t >= ?3 AND t < ?4 AND (quality & 2) = 0 HAVING count(*) > 0
                    """).Run(series, width, start, start + (width * MicrosecondsPerSecond));
            }
            else
            {
                connection.Statement("""
                    INSERT INTO rollup (series, width, start, n, min, max, sum) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
                    ON CONFLICT (series, width, start) DO UPDATE SET
                    n = n + excluded.n, min = min(min, excluded.min), max = max(max, excluded.max), sum = sum + excluded.sum
                    """).Run(series, width, start, gathered.Count, gathered.Min, gathered.Max, gathered.Sum);
            }
        }

        _gathered.Clear();
    }

    private static long StartOf(long microseconds, int width)
    {
        var span = width * MicrosecondsPerSecond;
        var rest = microseconds % span;
        return microseconds - (rest < 0 ? rest + span : rest);
    }

    private readonly record struct Gathered(int Count, double Min, double Max, double Sum, bool IsStale)
    {
        public Gathered With(double value) => IsStale
            ? this
            : new Gathered(Count + 1, Math.Min(Min, value), Math.Max(Max, value), Sum + value, IsStale: false);
    }
}

/// <summary>Widths of the roll-ups that are kept.</summary>
internal static class RollupWidths
{
    /// <summary>10 minutes and 1 hour.</summary>
    public static IReadOnlyList<int> Seconds { get; } = [600, 3600];
}
