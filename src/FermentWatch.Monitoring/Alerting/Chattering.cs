using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>An alert that is raised again and again: it is told so, and from then on its end is believed later. Common practice, no source.</summary>
public static class Chattering
{
    /// <summary>An alert that is raised this often within <see cref="Window"/> chatters.</summary>
    public const int Times = 3;

    /// <summary>How many times longer its off-delay then is.</summary>
    public const int Patience = 4;

    /// <summary>The stretch over which it is counted.</summary>
    public static TimeSpan Window { get; } = TimeSpan.FromHours(24);

    /// <summary>Delays of an alert that was raised at these moments, its present raising last.</summary>
    internal static AlertTiming Patient(AlertTiming timing, IReadOnlyList<EventTime> raised) => IsChattering(raised)
        ? timing with { Off = new Hold(timing.Off.Time * Patience, timing.Off.Samples * Patience) }
        : timing;

    /// <summary>How often an alert was raised in the 24 h up to its last raising, as the set remembers it.</summary>
    internal static int Count(AlertSet set, string rule, string subject)
    {
        var raised = set.Alerts
            .Where(alert => alert.Rule == rule && alert.Subject == subject && alert.Standing is not AlertStanding.Withdrawn)
            .Select(alert => alert.RaisedAt)
            .ToList();
        return raised.Count == 0 ? 0 : raised.Count(at => raised.Max() - at < Window);
    }

    /// <summary>Says so in the notice of an alert that was raised too often.</summary>
    internal static NoticeWords Add(
        NoticeWords words,
        TransitionKind kind,
        IReadOnlyList<(BatchView View, AlertTransition Transition)> members,
        IReadOnlyList<(BatchView View, StepResult Result)> batches)
    {
        if (kind is not TransitionKind.Raised || members.Count != 1)
        {
            return words;
        }

        var (alert, batch) = (members[0].Transition.Alert, members[0].View.Batch.Id);
        var times = batches.Where(one => one.View.Batch.Id == batch).Max(one => Count(one.Result.Now, alert.Rule, alert.Subject));
        // It takes the place of how it was measured: both do not fit.
        return times < Times ? words : In(words, times);
    }

    /// <summary>Words of a notice that say that its alert comes and goes: the remedy was told before, so what happened, this and where to look remain.</summary>
    /// <param name="words">As they are without.</param>
    /// <param name="times">How often it was raised.</param>
    public static NoticeWords In(NoticeWords words, int times)
    {
        ArgumentNullException.ThrowIfNull(words);
        var air = words.Body.Where(sentence => sentence.Code.StartsWith("ventilate", StringComparison.Ordinal));
        return words with { Body = ValueList.Of([words.Body[0], Reason.Of("chattering", new ReasonValue.Count(times)), .. air, Reason.Of("many-look")]) };
    }

    private static bool IsChattering(IReadOnlyList<EventTime> raised) =>
        raised.Count >= Times && raised[^1] - raised[^Times] < Window;
}
