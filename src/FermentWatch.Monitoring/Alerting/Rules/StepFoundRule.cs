using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>step-found</c>: gravity jumped and stayed there while nobody said that they work on the vessel: was it racked, moved or fed?
/// The subject is <c>step</c>; only the newest one is asked for.
/// </summary>
/// <remarks>A jump that goes back within hours is foam or stirring and raises nothing. Any entry of a deed from half a day before it on is the answer.
/// After a few days nobody remembers: the question goes away by itself.</remarks>
public static class StepFoundRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "step-found";

    private static readonly JournalKind[] NoDeeds =
        [JournalKind.Smell, JournalKind.Clarity, JournalKind.Tasted, JournalKind.BottleChecked, JournalKind.AirlockRefilled, JournalKind.ForcedTest, JournalKind.VesselClosed, JournalKind.VesselOpened];

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Step.Repeat, OnSamples: null, Tick, Words);

    private static IEnumerable<Duty> Open(BatchView view, StepSettings limits)
    {
        var found = view.Events.LastOrDefault(one => one.Kind is null && one.What.Code is ReasonCodes.EventStep or ReasonCodes.EventSugarFound);
        if (!limits.Enabled || found is null || found.At + limits.Forget <= view.Now
            || view.Journal.Any(entry => entry.At >= found.At - limits.Early && !NoDeeds.Contains(entry.Kind)))
        {
            return [];
        }

        var code = found.What.Code == ReasonCodes.EventStep ? "step-seen" : "sugar-seen";
        return [new Duty("step", found.At + limits.Returns, Reason.Of(code, found.What.Values[0], new ReasonValue.Moment(found.At)))];
    }

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass) => DutyTick.Of(Id, was, view, pass, Open(view, settings.Step));

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of(because.Code == "step-seen" ? "title-step" : "title-sugar", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("step-ask"), Reason.Of("ventilate-before-entering")));
    }
}
