using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Judges what was told about the end of a ferment.</summary>
internal static class FinishJudge
{
    // [SG a day]
    private const double NearlyStill = 0.002;

    /// <summary>Header of the lines that tell of single looks.</summary>
    public const string JudgmentColumns = "ferment,hours,phase,rate_per_day,gravity,resting,stuck,finished,ready,celsius,raised,remaining,ends_stuck,state";

    /// <summary>One look: what was judged, what was told and how it truly stood.</summary>
    public static string Judgment(BatchView view, ValueList<AlertTransition> transitions, FermentTruth truth)
    {
        var hours = (view.Now - truth.InoculatedAt).TotalHours;
        var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours + 0.01);
        var raised = string.Join(' ', transitions.Where(one => one.Kind is TransitionKind.Raised or TransitionKind.Withdrawn or TransitionKind.Cleared).Select(one => $"{one.Kind}:{one.Alert.Rule}"));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{truth.Ferment},{hours:0.0},{view.Phase.Phase},{view.Phase.RatePerDay:0.00000},{view.LatestGravity?.Value.Value:0.0000},{view.Stop.Resting:0.00},{view.Stop.Stuck:0.000},{view.Stop.Finished:0.000},{(view.Stop.IsReadyToStabilize ? 1 : 0)},{view.LatestTemperature?.Value.Celsius:0.0},{raised},{at?.Remaining:0.0000},{(at?.EndsStuck == true ? 1 : 0)},{at?.State}");
    }

    /// <summary>Told as itself, or within the notice of a temperature.</summary>
    public static bool Tells(AlertTransition one, string rule) =>
        (one.Kind is TransitionKind.Raised && one.Alert.Rule == rule) || (rule == FinishRules.StuckId && one.Also is not null);

    /// <param name="truth">How it truly went.</param>
    /// <param name="stuckAt">Hours at which <c>stuck</c> was told.</param>
    /// <param name="readyAt">Hours at which <c>ready-to-stabilize</c> was told.</param>
    /// <param name="stuck">Counts, in days.</param>
    /// <param name="ready">Counts, in days.</param>
    public static void Judge(FermentTruth truth, List<double> stuckAt, List<double> readyAt, AlertTally stuck, AlertTally ready)
    {
        string At(double hours) => string.Create(CultureInfo.InvariantCulture, $"{truth.Ferment} {truth.Family} on day {hours / 24:0.0}");
        foreach (var hours in stuckAt)
        {
            // What the alert says: left alone it ends with sugar that the yeast could bear the alcohol of, and it nearly stands still.
            var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours);
            stuck.Sent(
                (truth.StuckAtHours is { } from && hours >= from && hours <= (truth.StuckEndHours ?? double.PositiveInfinity) + 24) || at is { EndsStuck: true, RatePerDay: <= NearlyStill },
                At(hours));
        }

        if (truth.StuckAtHours is { } began && (truth.StuckEndHours ?? truth.EndHours) - began > 96)
        {
            var told = stuckAt.Where(hours => hours >= began && hours <= (truth.StuckEndHours ?? truth.EndHours) + 24).Select(hours => (double?)(hours - began) / 24).FirstOrDefault();
            stuck.Wanted(
                told ?? (stuckAt.Exists(hours => hours < began && truth.Cuts.LastOrDefault(cut => cut.Hours <= hours) is { EndsStuck: true, RatePerDay: <= NearlyStill }) ? 0 : null),
                $"{truth.Ferment} {truth.Family}");
        }

        foreach (var hours in readyAt)
        {
            ready.Sent(IsRight(hours), At(hours));
        }

        if (truth.TrueFinishHours is { } finish && truth.EndHours - finish > 7 * 24)
        {
            // Less than 2 points from the end it is right, and that may be long before the end itself.
            ready.Wanted(readyAt.Where(IsRight).Select(hours => (double?)(hours - finish) / 24).FirstOrDefault(), $"{truth.Ferment} {truth.Family}");
        }

        bool IsRight(double hours) => truth.Cuts.LastOrDefault(cut => cut.Hours <= hours) is { Remaining: < 0.002, EndsStuck: false };
    }
}
