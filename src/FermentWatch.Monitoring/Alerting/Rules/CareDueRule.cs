using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>care-due</c>: what ages in bulk is cared for. The subjects are the duties: <c>airlock</c>, <c>top-up</c>,
/// <c>sulfite</c>, <c>oak</c> while oak is in, <c>lees</c> once the ferment has ended, and <c>racking</c> on the day for which it is planned, which stands for the lees.
/// </summary>
/// <remarks>Each is dated from the last time that it was done, or from the beginning of the stage. After sweetening it still lies in bulk.</remarks>
public static class CareDueRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "care-due";

    private const string LeesSubject = "lees";
    private const string PlanSubject = "racking";

    // Racked so shortly before the end counts as off the lees.
    private static readonly TimeSpan AtTheEnd = TimeSpan.FromDays(2);

    // Odds of being finished below which the end that was told of was none.
    private const double PlainlyGoesOn = 0.5;

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Care.Repeat, OnSamples: null, Tick, Words);

    /// <summary>The next date of each duty; may lie ahead.</summary>
    public static IEnumerable<Duty> Open(BatchView view, CareSettings limits)
    {
        if (!limits.Enabled || view.Stage is not { Stage: not BatchStage.BottledWatch } stage)
        {
            yield break;
        }

        var planned = Planned(view);
        if (planned is not null)
        {
            yield return planned;
        }

        if (stage.Stage is not (BatchStage.Fermenting or BatchStage.Aging or BatchStage.SweetenedWatch))
        {
            yield break;
        }

        if (stage.Stage is BatchStage.Fermenting)
        {
            if (planned is null && RestedSince(view) is { } rested)
            {
                yield return Lees(view, rested, limits);
            }

            yield break;
        }

        yield return Of("top-up", Since(view, stage.From, entry => entry.Kind is JournalKind.ToppedUp or JournalKind.Racked), limits.TopUp);

        // Racking and stabilizing bring a fresh airlock and fresh sulfite.
        yield return Of("airlock", Since(view, stage.From, entry => entry.Kind is JournalKind.AirlockRefilled or JournalKind.Racked), limits.Airlock);
        yield return Of(
            "sulfite",
            Since(view, stage.From, entry => entry.Kind is JournalKind.Stabilized or JournalKind.SulfiteAdded || entry.Number("free-sulfite") is not null),
            limits.FreeSulfite);
        var oak = view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.OakIn or JournalKind.OakOut);
        if (oak is { Kind: JournalKind.OakIn })
        {
            var from = oak.At > stage.From ? oak.At : stage.From;
            yield return Of("oak", Since(view, from, entry => entry.Kind is JournalKind.Tasted), limits.Oak);
        }
    }

    /// <summary>Since when it is told that it has ended: alcohol and dead yeast begin to work on each other.</summary>
    private static EventTime? RestedSince(BatchView view) => view.Stop.Finished >= 0.9 && view.Forecast?.Finish.P50 is { } end && end <= view.Now
        && !view.Journal.Any(entry => entry.Kind is JournalKind.Racked && entry.At >= end - AtTheEnd)
            ? end
            : null;

    private static Duty? Planned(BatchView view) => PlannedRacking.Of(view) is { } plan ? Of(PlanSubject, plan.PlannedAt, plan.Day - plan.PlannedAt) : null;

    private static Duty Lees(BatchView view, EventTime rested, CareSettings limits) => Of(LeesSubject, rested, LeesTime(view, limits));

    private static TimeSpan LeesTime(BatchView view, CareSettings limits) =>
        view.Batch.Kind is FermentKind.Mead && !view.Journal.Any(entry => entry.Kind is JournalKind.FruitIn) ? limits.CleanLees : limits.GrossLees;

    private static Duty Of(string subject, EventTime since, TimeSpan length) =>
        new(subject, since + length, Reason.Of($"care-due-{subject}", new ReasonValue.Length(length), new ReasonValue.Moment(since)));

    private static EventTime Since(BatchView view, EventTime begin, Func<JournalEntry, bool> isDone) =>
        view.Journal.LastOrDefault(isDone) is { } done && done.At > begin ? done.At : begin;

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass) =>
        DutyTick.Of(Id, was, view, pass, Steady(was, view, Open(view, settings.Care), settings.Care));

    /// <summary>
    /// When the ferment ended is a forecast and sways by days around a date that was told: what was told stays due until somebody racks, or the ferment
    /// plainly goes on.
    /// </summary>
    private static IEnumerable<Duty> Steady(AlertSet was, BatchView view, IEnumerable<Duty> open, CareSettings limits)
    {
        var told = was.Alerts.LastOrDefault(alert => alert is { Rule: Id, Subject: LeesSubject, Standing: AlertStanding.Raised });
        return told is null || !limits.Enabled || Planned(view) is not null || view.Stage is not { Stage: BatchStage.Fermenting } || view.Stop.Finished < PlainlyGoesOn
            || view.Journal.Any(entry => entry.Kind is JournalKind.Racked && entry.At >= told.BeganAt - LeesTime(view, limits) - AtTheEnd)
            ? open
            : open.Where(duty => duty.Subject != LeesSubject).Append(new Duty(LeesSubject, told.BeganAt, told.Because));
    }

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var transition = about.Parts[0].Transition;
        var because = about.Because;
        var duty = transition.Alert.Subject;
        return new NoticeWords(
            Reason.Of($"title-care-{duty}", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of($"care-act-{duty}")));
    }
}
