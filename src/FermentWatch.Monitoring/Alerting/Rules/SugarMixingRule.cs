using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>sugar-mixing</c>: in the watch after sweetening gravity rises, or goes up and down. That is honey or sugar which lies in layers and mixes, no refermentation:
/// for the digest and the batch's page, never a notice of its own. The subject is the batch.
/// </summary>
/// <remarks>
/// Judged by <see cref="BatchView.GravityRisePoints"/>, in which each half of a swing that goes up counts. A plain fall is none: that is for
/// <see cref="FermentingAgainRule"/>. Common practice, no source.
/// </remarks>
public static class SugarMixingRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "sugar-mixing";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Mixing.Repeat, OnSamples: null, Tick, Words);

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var limits = settings.Mixing;
        var before = was.Memory(Id);
        var (condition, because) = Judge(view, settings);
        var moved = before.Move(view, condition, new AlertTiming(new Hold(limits.OnDelay, 2), new Hold(limits.OffDelay, 0), limits.GapLimit));
        var since = moved.State.Since.ToEventTime();
        var standing = moved.State.Stands
            ? new[] { new AlertEpisode(Id, view.Batch.Id.Value, Severity.Info, moved.BeganAt ?? since, since, ClearedAt: null, because ?? Told(was)) { EvidenceAt = view.Now, IsEasing = moved.State.Phase is AlertPhase.Easing } }
            : [];
        return new TickResult(was.Remember(moved), standing, new Dictionary<string, Reason>());
    }

    /// <summary>While it only lasts its words stay those with which it was raised.</summary>
    private static Reason Told(AlertSet was) => was.Alerts.LastOrDefault(alert => alert is { Rule: Id, Standing: AlertStanding.Raised })?.Because ?? Reason.Of("alert-ended");

    private static (Condition Condition, Reason? Because) Judge(BatchView view, AlertSettings settings)
    {
        var limits = settings.Mixing;
        if (!limits.Enabled || view.Stage is not { Stage: BatchStage.SweetenedWatch }
            || view.Journal.LastOrDefault(entry => entry.Kind is JournalKind.Sweetened && entry.At <= view.Now) is not { } sweetened)
        {
            return (Condition.NotApplicable, null);
        }

        // A sensor that follows the temperature rises with it: nothing can be told then.
        if (FermentingAgainRule.HasMoved(view, settings.Referment) || view.GravityRisePoints is not { } rise)
        {
            return (Condition.Unknown, null);
        }

        var because = Reason.Of(
            "mixing-seen", new ReasonValue.Gravity(rise / 1000, IsDifference: true), new ReasonValue.Gravity(view.LatestGravity?.Value.Value ?? 1), new ReasonValue.Moment(sweetened.At));
        return rise >= limits.RisesPoints ? (Condition.Holds, because) : (rise < limits.RisesPoints / 2 ? Condition.Clear : Condition.Between, null);
    }

    private static NoticeWords Words(NoticeSubject about) => about.IsOver
        ? EndedNotice.Words(about)
        : new NoticeWords(Reason.Of("title-sugar-mixing", about.Batch), ValueList.Of(about.Because, Reason.Of("ventilate-first"), Reason.Of("mixing-stir")));
}
