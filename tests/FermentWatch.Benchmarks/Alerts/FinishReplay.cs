using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Looks at a recording at each of its cuts, with every rule on, and judges what is said about its end.</summary>
internal static class FinishReplay
{
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay"), QuietHours = null };

    /// <param name="folder">The recording.</param>
    /// <param name="truth">How it truly went.</param>
    /// <param name="stuck">Counts of <c>stuck</c>, in days.</param>
    /// <param name="ready">Counts of <c>ready-to-stabilize</c>, in days.</param>
    /// <returns>Rules of the notices of the whole recording that are not urgent, and its weeks.</returns>
    public static (List<string> Notices, double Weeks) Run(ReplayFolder folder, FermentTruth truth, AlertTally stuck, AlertTally ready)
    {
        var (set, last, notices) = (AlertSet.Empty, (EventTime?)null, new List<string>());
        var (stuckAt, readyAt) = (new List<double>(), new List<double>());
        foreach (var cut in folder.Cuts)
        {
            var view = BatchAnalysis.View(folder.FactsAt(cut), ViewSettings.Default with { Alerts = Settings }, PriorSnapshot.Shipped, cut.At);
            var pass = new Pass(new ReceivedAt(cut.At.UnixMicroseconds), last is { } before ? cut.At - before : TimeSpan.Zero, TimeZoneInfo.Utc);
            var result = StepOf(set, view, pass);
            var hours = (cut.At - truth.InoculatedAt).TotalHours;
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

    private static StepResult StepOf(AlertSet set, BatchView view, Pass pass) => Monitoring.Alerting.Alerts.Step(set, view, Settings, pass);

    /// <summary>Told as itself, or within the notice of a temperature.</summary>
    private static IEnumerable<AlertTransition> Raised(StepResult result, string rule) => result.Transitions.Where(one =>
        (one.Kind is TransitionKind.Raised && one.Alert.Rule == rule) || (rule == FinishRules.StuckId && one.Also is not null));

    private static void Judge(string name, FermentTruth truth, List<double> stuckAt, List<double> readyAt, AlertTally stuck, AlertTally ready)
    {
        foreach (var hours in stuckAt)
        {
            var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours);
            stuck.Sent((truth.StuckAtHours is { } from && hours >= from && hours <= (truth.StuckEndHours ?? double.PositiveInfinity) + 24) || at is { EndsStuck: true, State: "stuck" }, name);
        }

        if (truth.StuckAtHours is { } began && (truth.StuckEndHours ?? truth.EndHours) - began > 96)
        {
            var told = stuckAt.Where(hours => hours >= began && hours <= (truth.StuckEndHours ?? truth.EndHours) + 24).Select(hours => (double?)(hours - began) / 24).FirstOrDefault();
            stuck.Wanted(told ?? (stuckAt.Exists(hours => hours < began && hours > began - 48) ? 0 : null), name);
        }

        foreach (var hours in readyAt)
        {
            var at = truth.Cuts.LastOrDefault(cut => cut.Hours <= hours);
            ready.Sent(at is { Remaining: < 0.002, EndsStuck: false }, name);
        }

        if (truth.TrueFinishHours is { } finish && truth.EndHours - finish > 7 * 24)
        {
            ready.Wanted(readyAt.Where(hours => hours >= finish - 48).Select(hours => (double?)(hours - finish) / 24).FirstOrDefault(), name);
        }
    }
}
