using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Something to do that has a date. It is open until the journal tells that it was done.</summary>
/// <param name="Subject">Which one: a lower-case word, the subject of the alert.</param>
/// <param name="DueAt">When it is due; may lie ahead.</param>
/// <param name="Because">What began it and how long it takes.</param>
public sealed record Duty(string Subject, EventTime DueAt, Reason Because);

/// <summary>Turns open duties into alerts once their dates are reached.</summary>
internal static class DutyTick
{
    public static TickResult Of(string rule, AlertSet was, BatchView view, Pass pass, IEnumerable<Duty> open)
    {
        var told = was.Alerts.Where(alert => alert.Rule == rule && alert.Standing is AlertStanding.Raised).Select(alert => alert.Subject).ToHashSet();
        // A clock that may be years wrong reaches no date.
        var due = open.Where(duty => pass.ClockTrusted ? duty.DueAt <= view.Now : told.Contains(duty.Subject)).ToList();
        var ended = told.Where(subject => due.TrueForAll(duty => duty.Subject != subject))
            .ToDictionary(subject => subject, _ => Reason.Of("duty-done", new ReasonValue.Moment(view.Now)));
        return new TickResult(was, [.. due.Select(duty => Episode(rule, duty, view))], ended);
    }

    private static AlertEpisode Episode(string rule, Duty duty, BatchView view) =>
        new(rule, duty.Subject, Severity.Action, duty.DueAt, duty.DueAt, ClearedAt: null, duty.Because) { EvidenceAt = view.Now };
}
