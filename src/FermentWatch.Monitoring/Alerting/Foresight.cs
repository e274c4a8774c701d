using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Something that will be due, as far as can be told now.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="At">When, at the earliest; in the past when it is due already.</param>
/// <param name="What">What it is: a title of a notice, or a reason of ours.</param>
public sealed record Ahead(BatchId Batch, EventTime At, Reason What);

/// <summary>What lies ahead in the cellar, for whoever leaves it alone.</summary>
/// <param name="Due">What will be due, earliest first.</param>
/// <param name="Unknown">Batches of which it cannot be told, each with the reason.</param>
public sealed record Foresight(ValueList<Ahead> Due, ValueList<Ahead> Unknown)
{
    /// <summary>How far it looks.</summary>
    public static TimeSpan Horizon { get; } = TimeSpan.FromDays(30);

    private static readonly TimeSpan Step = TimeSpan.FromHours(6);

    // Rules that only read the journal and the clock: asked of a later moment they tell what will be due then.
    private static readonly string[] Dated = [WaitingOverRule.Id, SentinelDueRule.Id, CareDueRule.Id, "nutrient-due"];

    /// <summary>Looks ahead from the facts as they are: dates of the journal, and the earliest end of each ferment (1 in 20 that it is earlier).</summary>
    /// <param name="batches">View and alerts of each batch.</param>
    /// <param name="settings">Delays of the rules.</param>
    /// <param name="now">The present.</param>
    /// <param name="zone">The reader's zone.</param>
    public static Foresight Of(IReadOnlyList<(BatchView View, AlertSet Alerts)> batches, AlertSettings settings, ReceivedAt now, TimeZoneInfo zone)
    {
        var due = batches.SelectMany(batch => DueOf(batch.View, batch.Alerts, settings, now, zone)).OrderBy(one => one.At);
        var unknown = batches.Select(batch => UnknownOf(batch.View)).OfType<Ahead>();
        return new Foresight(ValueList.Of(due), ValueList.Of(unknown));
    }

    private static IEnumerable<Ahead> DueOf(BatchView view, AlertSet alerts, AlertSettings settings, ReceivedAt now, TimeZoneInfo zone)
    {
        var known = new HashSet<(string Rule, string Subject)>();
        var rules = AlertRuleCatalog.All.Where(rule => Dated.Contains(rule.Id) && settings.IsOn(rule.Id) && MaySpeak(rule)).ToList();
        for (var ahead = TimeSpan.Zero; ahead <= Horizon; ahead += Step)
        {
            var then = new EventTime(now.UnixMicroseconds) + ahead;
            var later = view with { Now = then };
            foreach (var rule in rules)
            {
                foreach (var episode in Standing(rule, ahead).Where(episode => known.Add((episode.Rule, episode.Subject))))
                {
                    yield return new Ahead(view.Batch.Id, ahead == TimeSpan.Zero || episode.RaisedAt > then ? then : episode.RaisedAt, Title(rule, episode, later, now));
                }
            }
        }

        if (view.Forecast is { NotYet: null } forecast && forecast.Finish.P05 is { } finish && view.Stage is null or { Stage: BatchStage.Fermenting })
        {
            yield return new Ahead(view.Batch.Id, finish > view.Now ? finish : view.Now, Reason.Of("ahead-finish", new ReasonValue.Name(view.Batch.Name)));
        }

        IEnumerable<AlertEpisode> Standing(AlertRule rule, TimeSpan ahead) => rule.OnTicks?.Invoke(
            alerts, view with { Now = new EventTime(now.UnixMicroseconds) + ahead }, settings, new Pass(now + ahead, TimeSpan.Zero, zone)).Standing ?? [];

        // A duty that is due stays due until the journal answers it: where none is due at either end, none is between. A part of nutrient may come and go.
        bool MaySpeak(AlertRule rule) => rule.Id == NutrientDueRule.Id
            ? PlannedNutrients.Of(view) is { Parts.Count: > 0 }
            : Standing(rule, TimeSpan.Zero).Any() || Standing(rule, Horizon).Any();
    }

    private static Ahead? UnknownOf(BatchView view) => view.Stage is { Stage: not BatchStage.Fermenting } ? null
        : view.Forecast is null ? new Ahead(view.Batch.Id, view.Now, Reason.Of("ahead-no-gravity", new ReasonValue.Name(view.Batch.Name)))
        : view.Forecast.NotYet is not null ? new Ahead(view.Batch.Id, view.Now, Reason.Of("ahead-not-yet", new ReasonValue.Name(view.Batch.Name)))
        : null;

    private static Reason Title(AlertRule rule, AlertEpisode episode, BatchView view, ReceivedAt now)
    {
        var alert = AlertHistory.New(episode, view.Batch.Id, 0, AlertStanding.Raised);
        var part = (view, new AlertTransition(TransitionKind.Raised, alert, episode));
        return rule.Words(new NoticeSubject(TransitionKind.Raised, [part], Sensors: 1, InThread: 1, IsEverything: false, now)).Title;
    }
}
