using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>fermenting-again</c>: gravity falls, or pressure rises, although the batch was stabilized or sweetened. The subject is the batch;
/// urgent once it is in bottles, while the maker's word is that the vessel is closed, and where the pressure of a closed vessel rises.
/// </summary>
/// <remarks>A gravity that rises or is uneven in the days after sweetening is sugar that mixes, and after a move of the temperature it may
/// be the sensor: nothing is judged then. Each line of the forecast is one sample.</remarks>
public static class FermentingAgainRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "fermenting-again";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Referment.Repeat, OnSamples: null, Tick, Words);

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var limits = settings.Referment;
        var before = was.Memory(Id);
        var moved = before.Move(view, Judge(view, limits), new AlertTiming(new Hold(limits.OnDelay, 2), new Hold(limits.OffDelay, 0), limits.GapLimit));
        var ended = new Dictionary<string, Reason>();
        if (before.State.Stands && !moved.State.Stands)
        {
            ended[view.Batch.Id.Value] = Reason.Of("again-over", new ReasonValue.Moment(view.Now));
        }

        return new TickResult(was.Remember(moved), moved.State.Stands ? [Episode(moved, view, limits)] : [], ended);
    }

    private static Condition Judge(BatchView view, RefermentSettings limits)
    {
        var fixedAt = view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.Stabilized or JournalKind.Sweetened)?.At;
        if (!limits.Enabled || fixedAt is null || view.Stage is not { Stage: not BatchStage.Fermenting and not BatchStage.Malolactic })
        {
            return Condition.NotApplicable;
        }

        var sweetened = view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.Sweetened)?.At;
        if (view.Now - fixedAt.Value < limits.OnDelay // The rate is that of a day: none of it may lie before.
            || (sweetened is { } at && view.Now - at < limits.AfterSweetening)
            || HasMoved(view, limits))
        {
            return Condition.Unknown;
        }

        if (IsPressed(view, limits))
        {
            return Condition.Holds;
        }

        if (view.Phase.Phase is Phase.Unknown)
        {
            return Condition.Unknown;
        }

        var falls = (view.Phase.RatePerDay ?? 0) * 1000 > limits.FallsPointsPerDay;
        return view.Phase.Phase switch
        {
            Phase.Active or Phase.Slowing when falls => Condition.Holds,
            Phase.Flat => Condition.Clear,
            _ => Condition.Between,
        };
    }

    private static bool IsPressed(BatchView view, RefermentSettings limits) => view.PressurePerDay > limits.PressureRisesPerDay;

    /// <summary>Whether gas cannot leave: told as closed since it was last racked or opened. Another vessel is open until it is told as closed too.</summary>
    private static bool IsClosed(BatchView view)
    {
        var isClosed = false;
        foreach (var entry in view.Journal)
        {
            isClosed = entry.Kind is JournalKind.VesselClosed || (isClosed && entry.Kind is not (JournalKind.VesselOpened or JournalKind.Racked));
        }

        return isClosed;
    }

    internal static bool HasMoved(BatchView view, RefermentSettings limits)
    {
        var first = view.Temperature.FirstOrDefault(point => view.Now - point.At <= limits.AfterSweetening);
        return view.LatestTemperature is { } latest && view.Now - first.At <= limits.AfterSweetening
            && Math.Abs(latest.Value.Celsius - first.Temperature.Celsius) > limits.MovedCelsius;
    }

    private static AlertEpisode Episode(RuleMemory memory, BatchView view, RefermentSettings limits)
    {
        var isBottled = view.Stage is { Stage: BatchStage.BottledWatch };
        var since = memory.State.Since.ToEventTime();
        var (isPressed, isClosed) = (IsPressed(view, limits), IsClosed(view));
        var began = new ReasonValue.Moment(memory.BeganAt ?? since);
        var because = isPressed ? Reason.Of("again-pressed", new ReasonValue.Figure(view.PressurePerDay!.Value, 0), began) : Reason.Of(
            isBottled ? "again-in-bottles" : isClosed ? "again-closed" : "again-falls",
            new ReasonValue.Gravity(view.LatestGravity?.Value.Value ?? 1),
            new ReasonValue.Gravity(view.Phase.RatePerDay ?? 0, IsDifference: true),
            began);
        return new AlertEpisode(
            Id, view.Batch.Id.Value, isBottled || isPressed || isClosed ? Severity.Urgent : Severity.Warning, memory.BeganAt ?? since, since, ClearedAt: null, because)
        {
            EvidenceAt = view.Now,
            IsEasing = memory.State.Phase is AlertPhase.Easing,
        };
    }

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about);
        }

        var because = about.Because;
        if (because.Code == "again-pressed")
        {
            return new NoticeWords(Reason.Of("title-again-pressed", about.Batch), ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("again-relieve")));
        }

        return new NoticeWords(
            Reason.Of("title-again", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of(because.Code switch { "again-in-bottles" => "again-chill", "again-closed" => "again-let-off", _ => "again-do-not-bottle" })));
    }
}
