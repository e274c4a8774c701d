using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Looks at a recording often enough, see <see cref="Looks"/>, with every rule on, and judges what is said about its end.</summary>
internal static class FinishReplay
{
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay"), QuietHours = null };

    /// <param name="folder">The recording.</param>
    /// <param name="truth">How it truly went.</param>
    /// <param name="stuck">Counts of <c>stuck</c>, in days.</param>
    /// <param name="ready">Counts of <c>ready-to-stabilize</c>, in days.</param>
    /// <param name="judgments">Takes a line for each look: what was judged, what was told and how it truly stood.</param>
    /// <returns>Rules of the notices of the whole recording that are not urgent, and its weeks.</returns>
    public static (List<string> Notices, double Weeks) Run(ReplayFolder folder, FermentTruth truth, AlertTally stuck, AlertTally ready, List<string> judgments)
    {
        var (set, last, notices) = (AlertSet.Empty, (EventTime?)null, new List<string>());
        var (stuckAt, readyAt) = (new List<double>(), new List<double>());
        var looks = new Looks(folder);
        BatchView? seen = null;
        while (looks.Next(seen) is { } cut)
        {
            var view = seen = BatchAnalysis.View(folder.FactsAt(cut), ViewSettings.Default with { Alerts = Settings }, PriorSnapshot.Shipped, cut.At);
            var pass = new Pass(new ReceivedAt(cut.At.UnixMicroseconds), last is { } before ? cut.At - before : TimeSpan.Zero, TimeZoneInfo.Utc);
            var result = StepOf(set, view, pass);
            var hours = (cut.At - truth.InoculatedAt).TotalHours;
            judgments.Add(Judgment(folder.Ferment, hours, view, result, truth));
            foreach (var one in result.Transitions.Where(one => one.Kind is TransitionKind.Raised or TransitionKind.Repeated or TransitionKind.Withdrawn))
            {
                if (one.Alert.Severity is Severity.Action or Severity.Warning)
                {
                    notices.Add(one.Alert.Rule);
                }
            }

            stuckAt.AddRange(Raised(result, FinishRules.StuckId).Select(_ => hours));
            readyAt.AddRange(Raised(result, FinishRules.ReadyId).Select(_ => hours));
            (set, last) = (result.Now, cut.At);
        }

        Judge(folder.Ferment, truth, stuckAt, readyAt, stuck, ready);
        return (notices, truth.EndHours / 168);
    }

    // [SG a day]
    private const double NearlyStill = 0.002;

    /// <summary>Header of the lines that tell of single looks.</summary>
    public const string JudgmentColumns = "ferment,hours,phase,rate_per_day,gravity,resting,stuck,finished,ready,celsius,raised,remaining,ends_stuck,state";

    private static string Judgment(string name, double hours, BatchView view, StepResult result, FermentTruth truth)
    {
        var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours + 0.01);
        var raised = string.Join(' ', result.Transitions.Where(one => one.Kind is TransitionKind.Raised or TransitionKind.Withdrawn or TransitionKind.Cleared).Select(one => $"{one.Kind}:{one.Alert.Rule}"));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{name},{hours:0.0},{view.Phase.Phase},{view.Phase.RatePerDay:0.00000},{view.LatestGravity?.Value.Value:0.0000},{view.Stop.Resting:0.00},{view.Stop.Stuck:0.000},{view.Stop.Finished:0.000},{(view.Stop.IsReadyToStabilize ? 1 : 0)},{view.LatestTemperature?.Value.Celsius:0.0},{raised},{at?.Remaining:0.0000},{(at?.EndsStuck == true ? 1 : 0)},{at?.State}");
    }

    private static string At(string name, double hours) => string.Create(CultureInfo.InvariantCulture, $"{name} on day {hours / 24:0.0}");

    private static StepResult StepOf(AlertSet set, BatchView view, Pass pass) => Monitoring.Alerting.Alerts.Step(set, view, Settings, pass);

    /// <summary>Told as itself, or within the notice of a temperature.</summary>
    private static IEnumerable<AlertTransition> Raised(StepResult result, string rule) => result.Transitions.Where(one =>
        (one.Kind is TransitionKind.Raised && one.Alert.Rule == rule) || (rule == FinishRules.StuckId && one.Also is not null));

    private static void Judge(string name, FermentTruth truth, List<double> stuckAt, List<double> readyAt, AlertTally stuck, AlertTally ready)
    {
        foreach (var hours in stuckAt)
        {
            // What the alert says: left alone it ends with sugar that the yeast could bear the alcohol of, and it nearly stands still.
            var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours);
            stuck.Sent((truth.StuckAtHours is { } from && hours >= from && hours <= (truth.StuckEndHours ?? double.PositiveInfinity) + 24) || at is { EndsStuck: true, RatePerDay: <= NearlyStill }, At(name, hours));
        }

        if (truth.StuckAtHours is { } began && (truth.StuckEndHours ?? truth.EndHours) - began > 96)
        {
            var told = stuckAt.Where(hours => hours >= began && hours <= (truth.StuckEndHours ?? truth.EndHours) + 24).Select(hours => (double?)(hours - began) / 24).FirstOrDefault();
            stuck.Wanted(told ?? (stuckAt.Exists(hours => hours < began && truth.Cuts.LastOrDefault(cut => cut.Hours <= hours) is { EndsStuck: true, RatePerDay: <= NearlyStill }) ? 0 : null), name);
        }

        foreach (var hours in readyAt)
        {
            var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours);
            ready.Sent(at is { Remaining: < 0.002, EndsStuck: false }, At(name, hours));
        }

        if (truth.TrueFinishHours is { } finish && truth.EndHours - finish > 7 * 24)
        {
            ready.Wanted(readyAt.Where(hours => hours >= finish - 48).Select(hours => (double?)(hours - finish) / 24).FirstOrDefault(), name);
        }
    }
}
