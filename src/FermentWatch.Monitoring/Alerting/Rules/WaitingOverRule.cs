using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>waiting-over</c>: what was added has had its time. The subjects are the waits: <c>tannin</c>, <c>jars</c>, <c>fining</c>, <c>clarification</c> in the cold, <c>stabilized</c>,
/// <c>sweetened</c>, dated from the newest entry of each.
/// </summary>
/// <remarks>A wait ends unsaid when the next step was taken early, and is answered by any look at the batch once it is over.</remarks>
public static class WaitingOverRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "waiting-over";

    private static readonly JournalKind[] Answers =
        [JournalKind.Tasted, JournalKind.Racked, JournalKind.Sweetened, JournalKind.Bottled, JournalKind.MeasuredByHand];

    private static readonly Wait[] Waits =
    [
        new("tannin", JournalKind.TanninAdded, limits => limits.Tannin, [JournalKind.Racked, JournalKind.Sweetened, JournalKind.Bottled]),
        // Jars are tasted whatever happens to the batch itself.
        new("jars", JournalKind.JarsFilled, _ => TimeSpan.FromDays(HeldTrial.LowestDays), []),
        new("fining", JournalKind.Fined, limits => limits.Fining, [JournalKind.Racked, JournalKind.Sweetened, JournalKind.Bottled]),
        new("clarification", JournalKind.ColdCrash, limits => limits.Clarification, [JournalKind.Racked, JournalKind.Fined, JournalKind.Sweetened, JournalKind.Bottled, JournalKind.Repitched, JournalKind.SugarAdded]),
        new("stabilized", JournalKind.Stabilized, limits => limits.Stabilized, [JournalKind.Sweetened, JournalKind.Bottled]),
        new("sweetened", JournalKind.Sweetened, limits => limits.Sweetened, [JournalKind.Bottled]),
    ];

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Waiting.Repeat, OnSamples: null, Tick, Words);

    /// <summary>Waits that nothing in the journal has ended yet, those whose end lies ahead included.</summary>
    public static IEnumerable<Duty> Open(BatchView view, WaitingSettings limits) => limits.Enabled ? Waits.SelectMany(wait => Open(wait, view, limits)) : [];

    private static IEnumerable<Duty> Open(Wait wait, BatchView view, WaitingSettings limits)
    {
        var began = view.Journal.LastOrDefault(entry => entry.Kind == wait.Begins);
        if (began is null)
        {
            return [];
        }

        var length = wait.Length(limits);
        var due = began.At + length;
        var later = view.Journal.SkipWhile(entry => entry.Id != began.Id).Skip(1);
        return later.Any(entry => wait.Ends.Contains(entry.Kind) || (entry.At >= due && Answers.Contains(entry.Kind)))
            ? []
            : [new Duty(wait.Subject, due, Reason.Of($"waiting-over-{wait.Subject}", new ReasonValue.Moment(began.At), new ReasonValue.Length(length)))];
    }

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass) =>
        DutyTick.Of(Id, was, view, pass, Open(view, settings.Waiting));

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var transition = about.Parts[0].Transition;
        var because = about.Because;
        var wait = transition.Alert.Subject;
        return new NoticeWords(
            Reason.Of($"title-waiting-{wait}", about.Batch, because.Values[1]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of($"waiting-act-{wait}")));
    }

    private sealed record Wait(string Subject, JournalKind Begins, Func<WaitingSettings, TimeSpan> Length, JournalKind[] Ends);
}
