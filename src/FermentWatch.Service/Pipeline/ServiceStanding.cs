using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Pipeline;

/// <summary>The alerts about the service itself that stand now, for the pages. Safe for concurrent use.</summary>
public sealed class ServiceStanding : IDisposable
{
    private readonly SemaphoreSlim _gate = new(1, 1);
    private volatile bool _hasActs;

    private volatile IReadOnlyList<OpenAlert> _open = [];

    private volatile ServiceSet _set = ServiceSet.Empty;

    /// <summary>What stands, the most urgent first.</summary>
    public IReadOnlyList<OpenAlert> Open => _open;

    /// <summary>The set as the last pass left it.</summary>
    public ServiceSet Set => _set;

    /// <summary>Held while the set is read, changed and kept, by a pass or by what somebody says, so that neither undoes the other.</summary>
    /// <returns>Dispose it to let the next one in.</returns>
    public async Task<IDisposable> HoldAsync(CancellationToken cancellationToken)
    {
        await _gate.WaitAsync(cancellationToken);
        return new Held(_gate);
    }

    /// <summary>Notes that something was said and is on disk: the next pass takes it over.</summary>
    public void Acted(ServiceSet stored)
    {
        _hasActs = true;
        Take(stored);
    }

    /// <summary>Whether something was said since the last pass; asked once.</summary>
    public bool TakeActs()
    {
        var had = _hasActs;
        _hasActs = false;
        return had;
    }

    /// <inheritdoc/>
    public void Dispose() => _gate.Dispose();

    /// <summary>Takes over what a pass found; true when something else stands than before.</summary>
    public bool Take(ServiceSet set)
    {
        ArgumentNullException.ThrowIfNull(set);
        var open = set.Alerts
            .Where(alert => alert.Standing is AlertStanding.Raised)
            .Select(alert => new OpenAlert(alert.Rule, alert.Subject, alert.Severity, alert.RaisedAt.ToDateTimeOffset(), alert.Because)
            {
                Key = alert.Key,
                AcknowledgedAt = alert.AcknowledgedAt?.ToDateTimeOffset(),
                SnoozedUntil = alert.Snooze?.Until.ToDateTimeOffset(),
                DisputedAt = alert.DisputedAt?.ToDateTimeOffset(),
            })
            .OrderByDescending(alert => alert.Severity)
            .ThenBy(alert => alert.RaisedAt)
            .ToList();
        _set = set;
        var isNews = !open.SequenceEqual(_open);
        _open = open;
        return isNews;
    }

    private sealed class Held(SemaphoreSlim gate) : IDisposable
    {
        public void Dispose() => gate.Release();
    }
}
