using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A notice that left, as the log keeps it.</summary>
/// <param name="Batch">Its batch.</param>
/// <param name="Channel">Through which channel.</param>
/// <param name="At">When.</param>
/// <param name="Counts">Whether it made a sound and was not urgent.</param>
public sealed record LoggedNotice(BatchId Batch, string Channel, ReceivedAt At, bool Counts);

/// <summary>How a rule fared.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Told">Its alerts that were told.</param>
/// <param name="Wrong">Of these, those that somebody called wrong.</param>
public sealed record RuleRecord(string Rule, int Told, int Wrong);

/// <summary>An alert with its batch.</summary>
public sealed record AlertOf(BatchId Batch, TrackedAlert Alert);

/// <summary>Whether the alerts are worth listening to: what was sent, what stands, what comes and goes, what was wrong, what is held back.</summary>
public sealed record AlertHealth
{
    /// <summary>How far back notices are counted.</summary>
    public const int Weeks = 4;

    /// <summary>An alert that stands for longer is a standing one.</summary>
    public static TimeSpan StandingAfter { get; } = TimeSpan.FromHours(24);

    /// <summary>Notices of each batch and week, urgent and silent ones left out, sorted; of the channel that sent most.</summary>
    public required ValueList<int> BatchWeeks { get; init; }

    /// <summary>Median of <see cref="BatchWeeks"/>; null without any.</summary>
    public double? Median => BatchWeeks.Count == 0 ? null : (BatchWeeks[(BatchWeeks.Count - 1) / 2] + BatchWeeks[BatchWeeks.Count / 2]) / 2.0;

    /// <summary>95 of 100 batch-weeks brought at most so many; null without any.</summary>
    public int? P95 => BatchWeeks.Count == 0 ? null : BatchWeeks[(int)Math.Ceiling(0.95 * BatchWeeks.Count) - 1];

    /// <summary>Alerts that stand for more than <see cref="StandingAfter"/>.</summary>
    public required ValueList<AlertOf> Standing { get; init; }

    /// <summary>Alerts that were raised three times or more within a day of the last week, the newest of each.</summary>
    public required ValueList<AlertOf> Chattering { get; init; }

    /// <summary>Alerts that were over before they were sent, of all listeners.</summary>
    public required int Fleeting { get; init; }

    /// <summary>Rules with alerts that were told.</summary>
    public required ValueList<RuleRecord> Rules { get; init; }

    /// <summary>Standing alerts of which nobody is reminded, because somebody said so.</summary>
    public required ValueList<AlertOf> Silenced { get; init; }

    /// <summary>What waits for a digest, and what waits for the end of a night or of a limit.</summary>
    public required ValueList<NoticeLine> HeldBack { get; init; }

    /// <summary>Judges the alerts.</summary>
    /// <param name="batches">Set of each batch and when its yeast went in, or it was first heard of.</param>
    /// <param name="ledger">What was planned for whom.</param>
    /// <param name="log">Notices that left in the last weeks.</param>
    /// <param name="now">The present.</param>
    public static AlertHealth Of(IReadOnlyList<(BatchId Batch, EventTime Since, AlertSet Set)> batches, NoticeLedger ledger, IReadOnlyList<LoggedNotice> log, ReceivedAt now)
    {
        ArgumentNullException.ThrowIfNull(ledger);
        var at = new EventTime(now.UnixMicroseconds);
        var alerts = batches.SelectMany(batch => batch.Set.Alerts.Select(alert => new AlertOf(batch.Batch, alert))).ToList();
        var standing = alerts.Where(one => one.Alert.Standing is AlertStanding.Raised).ToList();
        return new AlertHealth
        {
            BatchWeeks = Count(batches, log, now),
            Standing = ValueList.Of(standing.Where(one => at - one.Alert.RaisedAt > StandingAfter)),
            Chattering = ValueList.Of(
                from batch in batches
                from subject in batch.Set.Alerts.GroupBy(alert => (alert.Rule, alert.Subject))
                let newest = subject.MaxBy(alert => alert.RaisedAt)!
                where at - newest.RaisedAt < TimeSpan.FromDays(7)
                    && Alerting.Chattering.Count(batch.Set, subject.Key.Rule, subject.Key.Subject) >= Alerting.Chattering.Times
                select new AlertOf(batch.Batch, newest)),
            Fleeting = ledger.Listeners.Sum(listener => listener.Fleeting),
            Rules = ValueList.Of(alerts.Where(one => one.Alert.StateNumber > 0).GroupBy(one => one.Alert.Rule, StringComparer.Ordinal)
                .Select(rule => new RuleRecord(rule.Key, rule.Count(), rule.Count(one => one.Alert.DisputedAt is not null)))
                .OrderBy(rule => rule.Rule, StringComparer.Ordinal)),
            Silenced = ValueList.Of(standing.Where(one => one.Alert.IsDealtWith())),
            HeldBack = ValueList.Of(ledger.Listeners
                .SelectMany(listener => listener.Digest.Concat(listener.Notices.Where(notice => !notice.IsTold).SelectMany(notice => notice.Lines)))
                .DistinctBy(line => (line.Thread, line.StateNumber))),
        };
    }

    /// <summary>Weeks in which a batch brought nothing count too: from its beginning on, newest first, the begun one left out.</summary>
    private static ValueList<int> Count(IReadOnlyList<(BatchId Batch, EventTime Since, AlertSet Set)> batches, IReadOnlyList<LoggedNotice> log, ReceivedAt now)
    {
        var week = TimeSpan.FromDays(7);
        var loudest = log.Where(notice => notice.Counts).GroupBy(notice => notice.Channel).OrderByDescending(channel => channel.Count()).FirstOrDefault()?.ToList() ?? [];
        var counts =
            from batch in batches
            from back in Enumerable.Range(0, Weeks)
            let until = now - (week * back)
            where new EventTime(until.UnixMicroseconds) - batch.Since >= week
            select loudest.Count(notice => notice.Batch == batch.Batch && notice.At <= until && until - notice.At < week);
        return ValueList.Of(counts.Order());
    }
}
