using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>What a sample says about an alert, and the words for it.</summary>
/// <param name="At">When.</param>
/// <param name="Condition">What it says.</param>
/// <param name="Because">Evidence while it holds, or why it is clear.</param>
/// <param name="Severity">How much it asks while it holds.</param>
internal readonly record struct Judged(EventTime At, Condition Condition, Reason Because, Severity Severity = Severity.Warning)
{
    /// <summary>The sample before with which the run began that this one confirms; null when it begins with this one.</summary>
    public EventTime? Since { get; init; }
}

/// <summary>Runs the state machine over judged samples in event order and gives the episodes.</summary>
internal static class EpisodeWalk
{
    /// <param name="rule">Id of the rule.</param>
    /// <param name="subject">What it is about.</param>
    /// <param name="samples">In event order.</param>
    /// <param name="timing">Delays of the rule.</param>
    /// <param name="end">When the subject left the batch or the rule's stage ended, with the reason; null while it is there.</param>
    public static IEnumerable<AlertEpisode> Of(string rule, string subject, IEnumerable<Judged> samples, AlertTiming timing, (EventTime At, Reason Because)? end = null)
    {
        var state = AlertState.Start;
        AlertEpisode? standing = null;
        var raised = new List<EventTime>();
        var patient = timing;
        foreach (var sample in samples)
        {
            var was = state;
            state = Backdated(was, state.Next(sample.Condition, RuleTime.Of(sample.At), patient), sample, patient);
            if (state.Phase is AlertPhase.Raised && !was.Stands)
            {
                raised.Add(sample.At);
                patient = Chattering.Patient(timing, raised);
                var beganAt = was.Phase is AlertPhase.Watching ? was.Since.ToEventTime() : sample.Since ?? sample.At;
                standing = new AlertEpisode(rule, subject, sample.Severity, beganAt, sample.At, ClearedAt: null, sample.Because) { EvidenceAt = sample.At };
            }
            else if (standing is not null && sample.Condition is Condition.Holds)
            {
                // An episode keeps the gravest of its grades: it is over before it becomes milder.
                standing = standing with { Because = sample.Because, EvidenceAt = sample.At, Severity = Max(standing.Severity, sample.Severity) };
            }

            if (standing is not null)
            {
                standing = standing with { IsEasing = state.Phase is AlertPhase.Easing };
                if (!state.Stands)
                {
                    yield return standing with { ClearedAt = sample.At, ClearedBecause = sample.Because, EvidenceAt = sample.At };
                    standing = null;
                }
            }
        }

        if (standing is not null)
        {
            yield return end is { } over ? standing with { ClearedAt = over.At, ClearedBecause = over.Because, IsEasing = false } : standing;
        }
    }

    /// <summary>When a sensor left the batch, with the words; null while it is there.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="until">Until when it was attached; null while it is.</param>
    /// <param name="now">The moment to look from.</param>
    public static (EventTime At, Reason Because)? Left(SensorId sensor, EventTime? until, EventTime now) => until is { } at && at <= now
        ? (at, Reason.Of("sensor-detached", new ReasonValue.Name(sensor.Value), new ReasonValue.Moment(at)))
        : null;

    /// <summary>A watch that begins with a sample which confirms the one before counts from that one.</summary>
    private static AlertState Backdated(AlertState was, AlertState state, Judged sample, AlertTiming timing)
    {
        if (was.Phase is not AlertPhase.Quiet || state.Phase is not AlertPhase.Watching || sample.Since is not { } first)
        {
            return state;
        }

        var at = RuleTime.Of(sample.At);
        var begun = state with { Since = RuleTime.Of(first), Held = at - RuleTime.Of(first) };
        return begun.Next(Condition.Holds, at, timing) is { Phase: AlertPhase.Raised } raised ? raised : begun with { Samples = begun.Samples + 1 };
    }

    private static Severity Max(Severity one, Severity other) => one > other ? one : other;
}
