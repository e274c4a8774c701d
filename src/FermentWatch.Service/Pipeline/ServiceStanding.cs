using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Pipeline;

/// <summary>The alerts about the service itself that stand now, for the pages. Safe for concurrent use.</summary>
public sealed class ServiceStanding
{
    private volatile IReadOnlyList<OpenAlert> _open = [];

    /// <summary>What stands, the most urgent first.</summary>
    public IReadOnlyList<OpenAlert> Open => _open;

    /// <summary>Takes over what a pass found; true when something else stands than before.</summary>
    public bool Take(ServiceSet set)
    {
        ArgumentNullException.ThrowIfNull(set);
        var open = set.Alerts
            .Where(alert => alert.Standing is AlertStanding.Raised)
            .Select(alert => new OpenAlert(alert.Rule, alert.Subject, alert.Severity, alert.RaisedAt.ToDateTimeOffset(), alert.Because))
            .OrderByDescending(alert => alert.Severity)
            .ThenBy(alert => alert.RaisedAt)
            .ToList();
        var isNews = !open.SequenceEqual(_open);
        _open = open;
        return isNews;
    }
}
