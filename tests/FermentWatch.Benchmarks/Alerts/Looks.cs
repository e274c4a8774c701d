using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>
/// Moments at which a recording is looked at: its cuts, and enough between them. The running service looks every few seconds; a hold of
/// twelve hours in which nobody looked would begin anew, and the figures would tell of the cuts instead of the alerts.
/// </summary>
internal sealed class Looks(ReplayFolder folder)
{
    private static readonly TimeSpan Usual = TimeSpan.FromHours(12);

    // Near the end of a ferment the alerts about it live.
    private static readonly TimeSpan NearTheEnd = TimeSpan.FromHours(6);

    private int _cut;
    private int _rows;
    private EventTime? _last;

    /// <summary>The next one, or null when the recording is over.</summary>
    /// <param name="was">What was seen at the one before; null at first.</param>
    public ReplayCut? Next(BatchView? was)
    {
        if (_cut >= folder.Cuts.Count)
        {
            return null;
        }

        var cut = folder.Cuts[_cut];
        var step = was is { Stop: { Finished: > 0.5 } or { Stuck: > 0.5 } } ? NearTheEnd : Usual;
        if (_last is { } last && last + step < cut.At)
        {
            var at = last + step;
            while (_rows < cut.Rows && folder.Readings.Rows[_rows] is var row && (row.ReceivedAt is not { } received || received.UnixMicroseconds <= at.UnixMicroseconds))
            {
                _rows++;
            }

            _last = at;
            return new ReplayCut(cut.Number, at, _rows);
        }

        _cut++;
        (_last, _rows) = (cut.At, Math.Max(_rows, cut.Rows));
        return cut;
    }
}
