using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>forecast-moved</c>: the finish moved by days, or the end left the range that was told. For the digest; what is told then is the new measure.</summary>
public static class ForecastMovedRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "forecast-moved";

    private static readonly TimeSpan LongestUntold = TimeSpan.FromHours(48);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.ForecastMoved.Repeat, OnSamples: null, Tick, Words);

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var limits = settings.ForecastMoved;
        var before = was.Memory(Id);
        if (IsOver(view) || !limits.Enabled)
        {
            return new TickResult(before.Anchor is null ? was : was.Remember(RuleMemory.Empty(Id)), [], new Dictionary<string, Reason>());
        }

        // Not determined for a while: what was told before stays the measure.
        if (Anchor(view) is not { } present)
        {
            return new TickResult(was, [], new Dictionary<string, Reason>());
        }

        var told = was.Alerts.Any(alert => alert is { Rule: Id, Standing: AlertStanding.Raised, Told: AlertStanding.Raised });
        if (before.Anchor is not { } anchor || told || (before.State.Stands && view.Now - before.State.Since.ToEventTime() > LongestUntold))
        {
            return new TickResult(was.Remember(RuleMemory.Empty(Id) with { Anchor = present, Line = view.Forecast?.AsOf }), [], new Dictionary<string, Reason>());
        }

        var hasMoved = Math.Abs((present.Finish - anchor.Finish).TotalDays) > limits.FinishDays || present.End < anchor.Low || present.End > anchor.High;
        var moved = before.Move(view, hasMoved ? Condition.Holds : Condition.Clear, new AlertTiming(new Hold(limits.OnDelay, 2), Hold.None, limits.GapLimit, Latched: true));
        var because = Reason.Of(
            "forecast-moved-to", new ReasonValue.Moment(present.Finish), new ReasonValue.Moment(anchor.Finish), new ReasonValue.Gravity(present.End), new ReasonValue.Gravity(anchor.Low), new ReasonValue.Gravity(anchor.High));
        var began = moved.BeganAt ?? view.Now;
        return new TickResult(
            was.Remember(moved),
            moved.State.Stands ? [new AlertEpisode(Id, view.Batch.Id.Value, Severity.Info, began, moved.State.Since.ToEventTime(), ClearedAt: null, because) { EvidenceAt = view.Now }] : [],
            new Dictionary<string, Reason>());
    }

    /// <summary>Whether the ferment no longer works: other alerts tell then.</summary>
    private static bool IsOver(BatchView view) => view.Stage is { Stage: not BatchStage.Fermenting } || view.Stop.Finished >= 0.5 || view.Stop.IsStuck;

    /// <summary>What is forecast now; null while it is not determined.</summary>
    private static ForecastAnchor? Anchor(BatchView view) =>
        view.Forecast is not { NotYet: null } forecast || forecast.Finish.P50 is not { } finish
            ? null
            : new ForecastAnchor(finish, forecast.FinalGravity.P50.Value, forecast.FinalGravity.P05.Value, forecast.FinalGravity.P95.Value);

    private static NoticeWords Words(NoticeSubject about) => about.IsOver
        ? EndedNotice.Words(about)
        : new NoticeWords(Reason.Of("title-forecast-moved", about.Batch, about.Because.Values[0]), ValueList.Of(about.Because, Reason.Of("forecast-moved-look"), Reason.Of("ventilate-before-entering")));
}
