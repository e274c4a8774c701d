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
    // What the alert calls nearly still. [SG a day]
    private const double NearlyStill = 0.002;

    // Told earlier than the standstill is in time from this fall on, as in the scoring of forecasts. [SG a day]
    private const double NearlyStuck = 0.0015;

    // Stuck for 48 hours, as in the scoring of forecasts, and for the on-delay of the row: a shorter standstill can't be told while it lasts.
    private const double LeastStuckHours = 48 + 12;

    private const double GraceHours = 24;
    private const double LateHours = 12;

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

    /// <summary>Told as itself, or within the notice of a temperature whose text says so.</summary>
    public static bool Tells(AlertTransition one, string rule, BatchView view) =>
        (one.Kind is TransitionKind.Raised && one.Alert.Rule == rule) || (rule == FinishRules.StuckId && one is { Also: not null, IsAlsoNews: true } && SaysStuck(one, view));

    private static bool SaysStuck(AlertTransition one, BatchView view) => AlertRuleCatalog.Named(one.Alert.Rule)
        .Words(new NoticeSubject(one.Kind, [(view, one)], Sensors: 1, InThread: 1, IsEverything: false, new ReceivedAt(view.Now.UnixMicroseconds)))
        .Body.Any(sentence => sentence.Code.StartsWith("stuck-in-", StringComparison.Ordinal));

    /// <summary>Notes from when to when 'stuck' was told; what stands has no end yet.</summary>
    public static void Note(List<(double From, double Until)> stuckAt, ValueList<AlertTransition> changes, BatchView view, double hours)
    {
        foreach (var one in changes)
        {
            if (Tells(one, FinishRules.StuckId, view))
            {
                // Within the notice of a temperature it is told once, and no end of it is heard of.
                stuckAt.Add((hours, one.Alert.Rule == FinishRules.StuckId ? double.PositiveInfinity : hours));
            }
            else if (one.Kind is TransitionKind.Cleared or TransitionKind.Withdrawn && one.Alert.Rule == FinishRules.StuckId)
            {
                for (var i = 0; i < stuckAt.Count; i++)
                {
                    stuckAt[i] = (stuckAt[i].From, Math.Min(stuckAt[i].Until, hours));
                }
            }
        }
    }

    /// <param name="truth">How it truly went.</param>
    /// <param name="stuckAt">From which hour to which <c>stuck</c> was told; the same hour twice where it was told within another notice.</param>
    /// <param name="readyAt">Hours at which <c>ready-to-stabilize</c> was told.</param>
    /// <param name="stuck">Counts, in days.</param>
    /// <param name="anyStandstill">The same where every ferment is wanted that the truth calls stuck at an hour, 60 hours before it goes on or its data end, whatever it does in them.</param>
    /// <param name="ready">Counts, in days.</param>
    /// <remarks>
    /// To be told is a ferment that the truth labels stuck (it falls by less than 0.6 points a day and, left alone, ends with sugar that its yeast could bear the
    /// alcohol of) without a break for 60 hours of its data. The first hour of that label is not enough: a starved ferment that a cold night stops has it, and
    /// works on when the must is warm again; what is said about it then is judged by how it stands then.
    /// </remarks>
    public static void Judge(FermentTruth truth, List<(double From, double Until)> stuckAt, List<double> readyAt, AlertTally stuck, AlertTally anyStandstill, AlertTally ready)
    {
        string At(double hours) => string.Create(CultureInfo.InvariantCulture, $"{truth.Ferment} {truth.Family} on day {hours / 24:0.0}");
        var spells = truth.StuckSpells().ToList();
        foreach (var (hours, _) in stuckAt)
        {
            // What the alert says: left alone it ends with sugar that the yeast could bear the alcohol of, and it nearly stands still.
            stuck.Sent(Stands(hours, NearlyStill) || spells.Exists(spell => hours >= spell.From && hours <= spell.Until + GraceHours), At(hours));
        }

        if (spells.FirstOrDefault(spell => spell.Until - spell.From >= LeastStuckHours) is { Until: > 0 } standstill)
        {
            var told = stuckAt.Where(one => one.From <= Math.Min(standstill.Until + LateHours, truth.EndHours) && (one.Until >= standstill.From || Stands(one.From, NearlyStuck)))
                .Select(one => (double?)(one.From - standstill.From) / 24).FirstOrDefault();
            stuck.Wanted(told, $"{truth.Ferment} {truth.Family}");
        }

        if (truth.StuckAtHours is { } stuckFrom && Math.Min(truth.StuckEndHours ?? truth.EndHours, truth.EndHours) is var until && until - stuckFrom >= LeastStuckHours)
        {
            var told = stuckAt.Where(one => one.From <= Math.Min(until + LateHours, truth.EndHours) && (one.Until >= stuckFrom || Stands(one.From, NearlyStuck)))
                .Select(one => (double?)(one.From - stuckFrom) / 24).FirstOrDefault();
            anyStandstill.Wanted(told, $"{truth.Ferment} {truth.Family}");
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

        bool Stands(double hours, double perDay) => truth.Cuts.LastOrDefault(cut => cut.Hours <= hours) is { EndsStuck: true } at && at.RatePerDay < perDay;

        bool IsRight(double hours) => truth.Cuts.LastOrDefault(cut => cut.Hours <= hours) is { Remaining: < 0.002, EndsStuck: false };
    }
}
