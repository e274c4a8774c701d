using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Steps the alerts of one batch through its views, plans the notices and counts those that leave.</summary>
/// <param name="settings">Limits, night and listeners.</param>
/// <param name="answersAfter">How long after a notice somebody answers 'I'm on it'; null for nobody.</param>
internal sealed class AlertChain(AlertSettings settings, TimeSpan? answersAfter)
{
    private readonly Dictionary<string, OutboxDraft> _waiting = [];
    private readonly List<(EventTime At, string Rule)> _sent = [];
    private AlertSet _set = AlertSet.Empty;
    private NoticeLedger _ledger = NoticeLedger.Empty;
    private EventTime? _last;

    /// <summary>Notices that left and that are neither urgent nor all-clears nor the daily digest.</summary>
    public IReadOnlyList<(EventTime At, string Rule)> Sent => _sent;

    /// <summary>Digests that left.</summary>
    public int Digests { get; private set; }

    /// <summary>What changed at this look.</summary>
    public ValueList<AlertTransition> Look(BatchView view)
    {
        var now = new ReceivedAt(view.Now.UnixMicroseconds);
        var pass = new Pass(now, _last is { } before ? view.Now - before : TimeSpan.Zero, TimeZoneInfo.Utc) { IsFirst = _last is null };
        Leave(now);
        Answer(now);
        var result = Monitoring.Alerting.Alerts.Step(_set, view, settings, pass);
        var plan = NoticePlan.For(view, result, settings, pass, _ledger);
        foreach (var key in plan.Canceled)
        {
            _waiting.Remove(key);
        }

        foreach (var draft in plan.Drafts)
        {
            _waiting[draft.Key] = draft;
        }

        (_set, _ledger, _last) = (result.Now, plan.Ledger, view.Now);
        return result.Transitions;
    }

    /// <summary>The recording is over: what waits leaves.</summary>
    public void Finish() => Leave(new ReceivedAt(long.MaxValue));

    private void Leave(ReceivedAt now)
    {
        foreach (var draft in _waiting.Values.Where(draft => draft.NextAttemptAt <= now).ToList())
        {
            _waiting.Remove(draft.Key);
            if (draft.Kind is null && draft.Key.StartsWith("digest", StringComparison.Ordinal))
            {
                Digests++;
            }
            else if (!draft.Silent && draft.Severity is not Severity.Urgent)
            {
                var rules = _set.Alerts.Where(alert => draft.Alerts.Contains(alert.Key)).Select(alert => alert.Rule).Distinct().Order(StringComparer.Ordinal);
                _sent.Add((new EventTime(draft.NextAttemptAt.UnixMicroseconds), string.Join('+', rules) + (draft.Kind is TransitionKind.Raised ? "" : $" ({draft.Kind})")));
            }
        }
    }

    private void Answer(ReceivedAt now)
    {
        if (answersAfter is { } after)
        {
            foreach (var alert in _set.Alerts.Where(alert => alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised, AcknowledgedAt: null, ToldAt: not null } && now - alert.ToldAt.Value >= after))
            {
                _set = _set.Acknowledge(alert.Key, now);
            }
        }
    }
}
