using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>A recording with the time at which each of its rows arrived, so that it can be looked at at any moment.</summary>
internal sealed class Recording
{
    private readonly ReplayFolder _folder;
    private readonly long[] _arrivals;

    public Recording(ReplayFolder folder)
    {
        _folder = folder;
        End = folder.Cuts[^1].At;
        Whole = folder.FactsAt(folder.Cuts[^1]);
        _arrivals = Arrivals(Whole, folder.Readings.Rows.Count);
        Heard = [.. Whole.Series.Where(series => series.Readings.Count > 0).Select(series => new HeardSeries(series))];
    }

    /// <summary>Name of the recording.</summary>
    public string Name => _folder.Ferment;

    /// <summary>All facts.</summary>
    public BatchFacts Whole { get; }

    /// <summary>The last moment that counts.</summary>
    public EventTime End { get; }

    /// <summary>Moments that the recording itself asks about.</summary>
    public IEnumerable<EventTime> Cuts => _folder.Cuts.Select(cut => cut.At);

    /// <summary>Series in order of arrival.</summary>
    public IReadOnlyList<HeardSeries> Heard { get; }

    /// <summary>What was known at a moment.</summary>
    public BatchFacts FactsAt(EventTime at)
    {
        var place = Array.BinarySearch(_arrivals, at.UnixMicroseconds);
        var rows = place < 0 ? ~place : place + 1;
        while (rows < _arrivals.Length && _arrivals[rows] <= at.UnixMicroseconds)
        {
            rows++;
        }

        return _folder.FactsAt(new ReplayCut(0, at, rows));
    }

    /// <summary>When the sample of that time arrived.</summary>
    public EventTime ArrivalOf(EventTime sample)
    {
        var arrival = Whole.Series.SelectMany(series => series.Readings).Where(reading => reading.At == sample).Select(reading => reading.ReceivedAt.UnixMicroseconds).DefaultIfEmpty(0).Min();
        return new EventTime(Math.Max(arrival, sample.UnixMicroseconds));
    }

    // A row that became no reading arrived with the one before it.
    private static long[] Arrivals(BatchFacts whole, int rows)
    {
        var arrivals = new long[rows];
        foreach (var reading in whole.Series.SelectMany(series => series.Readings))
        {
            arrivals[reading.Sequence] = reading.ReceivedAt.UnixMicroseconds;
        }

        for (var i = 1; i < rows; i++)
        {
            arrivals[i] = Math.Max(arrivals[i], arrivals[i - 1]);
        }

        return arrivals;
    }
}

/// <summary>A series in order of arrival.</summary>
internal sealed class HeardSeries(SeriesReadings series)
{
    /// <summary>Which.</summary>
    public SeriesKey Series => series.Series;

    /// <summary>Its readings, as they arrived.</summary>
    public IReadOnlyList<Reading> Readings { get; } = [.. series.Readings.OrderBy(reading => reading.ReceivedAt).ThenBy(reading => reading.Sequence)];

    /// <summary>The sensor's own interval.</summary>
    public TimeSpan Interval { get; } = Monitoring.Alerting.SampleOrder.MedianInterval([.. series.Readings.OrderBy(reading => reading.At)], TimeSpan.FromMinutes(15));

    /// <summary>The last one that had arrived by then, or null.</summary>
    public Reading? LastAt(EventTime at)
    {
        var (low, high) = (0, Readings.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = Readings[middle].ReceivedAt.UnixMicroseconds <= at.UnixMicroseconds ? (middle + 1, high) : (low, middle);
        }

        return low == 0 ? null : Readings[low - 1];
    }
}
