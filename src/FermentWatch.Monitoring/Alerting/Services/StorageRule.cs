using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary><c>storage</c>: the subjects are <c>writes</c> (urgent: nothing is kept), <c>space</c> and <c>backup</c>.</summary>
public static class StorageRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "storage";

    // It is clear only with a fifth more than what raises it.
    private const double ClearFactor = 1.2;

    /// <summary>The catalogue's entry.</summary>
    public static ServiceRule Rule { get; } = new(
        Id,
        new RepeatSettings(TimeSpan.FromHours(12), 3),
        Find,
        because => Reason.Of("title-" + because.Code),
        because => ValueList.Of(Reason.Of("act-" + because.Code)));

    private static IEnumerable<ServiceFinding> Find(ServiceFacts facts, ServiceLimits limits, ReceivedAt now)
    {
        var off = new Hold(limits.StorageDelay, 0);
        yield return new ServiceFinding(
            "writes",
            facts.AreWritesFailing ? Condition.Holds : Condition.Clear,
            Severity.Urgent,
            Reason.Of("storage-writes-fail"),
            new AlertTiming(new Hold(limits.WritesOnDelay, 0), off, TimeSpan.MaxValue));
        var slow = new AlertTiming(off, off, TimeSpan.MaxValue);
        if (facts.Space is { } space)
        {
            var needed = Math.Max(limits.LeastFreeBytes, limits.LeastFreeShare * space.Total);
            yield return new ServiceFinding(
                "space",
                space.Free < needed ? Condition.Holds : space.Free < ClearFactor * needed ? Condition.Between : Condition.Clear,
                Severity.Warning,
                Reason.Of("storage-space-low", new ReasonValue.Figure(space.Free / 1e6, 0), new ReasonValue.Figure(needed / 1e6, 0)),
                slow);
        }

        if (facts.Backup is { } backup)
        {
            var isOld = now - (backup.MadeAt ?? backup.Since) > limits.OldestBackup;
            var because = !backup.IsSound ? Reason.Of("storage-backup-bad")
                : backup.MadeAt is { } made ? Reason.Of("storage-backup-old", new ReasonValue.Moment(new EventTime(made.UnixMicroseconds)))
                : Reason.Of("storage-backup-none");
            yield return new ServiceFinding("backup", isOld || !backup.IsSound ? Condition.Holds : Condition.Clear, Severity.Warning, because, slow);
        }
    }
}
