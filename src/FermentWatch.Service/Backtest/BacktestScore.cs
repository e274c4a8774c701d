namespace FermentWatch.Service.Backtest;

/// <summary>How the final gravity and the finish were foreseen at one share of the sugar. Gravity in points (0.001 SG), times in days.</summary>
internal sealed record ShareScore(
    int Count,
    double MeanError,
    double MedianError,
    double Bias,
    double NinetiethError,
    double HalfCoverage,
    double NineTenthsCoverage,
    double HalfWidth,
    double NineTenthsWidth,
    double IntervalScore,
    int Missing,
    int FinishCount,
    double? FinishMeanError,
    double? FinishMedianError,
    double? FinishCoverage);

/// <summary>How well it was told what the ferments were doing.</summary>
internal sealed record DecisionScore(
    int Ferments,
    int Missing,
    double StateAccuracy,
    double MergedStateAccuracy,
    int StuckCount,
    double? StuckRecall,
    double? StuckDelayMedian,
    double? StuckDelayNinetieth,
    double FalseAlarmsPerFerment,
    int FermentsWithFalseAlarm,
    int FalseReadyCuts,
    int FalseReadyFerments,
    int ReadyCount,
    int NeverReady,
    double? ReadyDelayMedian,
    double? ReadyDelayNinetieth,
    double TemperatureRecall,
    double TemperaturePrecision);

/// <summary>The scores of a group of ferments.</summary>
/// <param name="Name">OVERALL, or the family.</param>
/// <param name="AtShares">By share of the sugar, in percent; those without a single cut are missing.</param>
/// <param name="Decisions">The rest.</param>
internal sealed record GroupScore(string Name, IReadOnlyDictionary<string, ShareScore> AtShares, DecisionScore Decisions);

/// <summary>Scores predictions against the truth.</summary>
/// <remarks>
/// The final gravity is asked for at the first cut at or after 30, 50, 70 and 90 % of the sugar that no recent act disturbs. Decisions are
/// judged at every cut. A missing line counts as wrong. <b>Check.</b> BacktestScoreTests, against another implementation.
/// </remarks>
internal static class BacktestScore
{
    /// <summary>Percent of all sugar that will ever be consumed.</summary>
    public static IReadOnlyList<string> Shares { get; } = ["30", "50", "70", "90"];

    /// <summary>The scores of all ferments, then of each family.</summary>
    public static IReadOnlyList<GroupScore> Of(IReadOnlyList<FermentTruth> truths, IReadOnlyList<Prediction> predictions)
    {
        var byFerment = new Dictionary<string, Dictionary<int, Prediction>>(StringComparer.Ordinal);
        foreach (var prediction in predictions)
        {
            if (!byFerment.TryGetValue(prediction.Ferment, out var cuts))
            {
                byFerment[prediction.Ferment] = cuts = [];
            }

            cuts[prediction.Cut] = prediction;
        }

        var none = new Dictionary<int, Prediction>();
        var ends = new List<EndJudgment>();
        var decisions = new List<DecisionJudgment>();
        foreach (var truth in truths.OrderBy(truth => truth.Ferment, StringComparer.Ordinal))
        {
            var told = byFerment.GetValueOrDefault(truth.Ferment) ?? none;
            ends.AddRange(EndJudgment.Of(truth, told));
            decisions.Add(DecisionJudgment.Of(truth, told));
        }

        return
        [
            Group("OVERALL", ends, decisions),
            .. decisions.Select(one => one.Family).Distinct().Order(StringComparer.Ordinal).Select(family => Group(
                family, ends.FindAll(one => one.Family == family), decisions.FindAll(one => one.Family == family))),
        ];
    }

    /// <summary>A quantile of unsorted numbers, linear between neighbors.</summary>
    internal static double Quantile(IEnumerable<double> values, double probability)
    {
        double[] sorted = [.. values.Order()];
        var position = probability * (sorted.Length - 1);
        var low = (int)Math.Floor(position);
        var high = Math.Min(low + 1, sorted.Length - 1);
        return sorted[low] + ((position - low) * (sorted[high] - sorted[low]));
    }

    private static GroupScore Group(string name, List<EndJudgment> ends, List<DecisionJudgment> decisions)
    {
        var shares = new Dictionary<string, ShareScore>(StringComparer.Ordinal);
        foreach (var share in Shares)
        {
            var at = ends.FindAll(one => one.Share == share);
            if (at.Count > 0)
            {
                shares[share] = AtShare(at);
            }
        }

        return new GroupScore(name, shares, Decide(decisions));
    }

    private static ShareScore AtShare(List<EndJudgment> at)
    {
        var finishes = at.FindAll(one => one.FinishError is not null);
        return new ShareScore(
            at.Count,
            at.Average(one => Math.Abs(one.Error)),
            Quantile(at.Select(one => Math.Abs(one.Error)), 0.5),
            at.Average(one => one.Error),
            Quantile(at.Select(one => Math.Abs(one.Error)), 0.9),
            at.Average(one => one.InHalf ? 1.0 : 0),
            at.Average(one => one.InNineTenths ? 1.0 : 0),
            at.Average(one => one.HalfWidth),
            at.Average(one => one.NineTenthsWidth),
            at.Average(one => one.IntervalScore),
            at.Count(one => one.IsMissing),
            finishes.Count,
            finishes.Count > 0 ? finishes.Average(one => one.FinishError!.Value) : null,
            finishes.Count > 0 ? Quantile(finishes.Select(one => one.FinishError!.Value), 0.5) : null,
            finishes.Count > 0 ? finishes.Average(one => one.InFinish ? 1.0 : 0) : null);
    }

    private static DecisionScore Decide(List<DecisionJudgment> all)
    {
        const double Never = 99;
        var stuck = all.FindAll(one => one.CountsAsStuck);
        var delays = stuck.Where(one => one.StuckDelayDays is not null).Select(one => one.StuckDelayDays!.Value).ToList();
        var finished = all.FindAll(one => one.CountsAsFinished);
        var ready = finished.Where(one => one.ReadyDelayDays is not null).Select(one => one.ReadyDelayDays!.Value).ToList();
        var cuts = Math.Max(1, all.Sum(one => one.Cuts));
        return new DecisionScore(
            all.Count,
            all.Sum(one => one.Missing),
            all.Sum(one => one.RightStates) / (double)cuts,
            all.Sum(one => one.RightMergedStates) / (double)cuts,
            stuck.Count,
            stuck.Count > 0 ? delays.Count / (double)stuck.Count : null,
            delays.Count > 0 ? Quantile(delays, 0.5) : null,
            delays.Count > 0 ? Quantile(delays, 0.9) : null,
            all.Sum(one => one.FalseAlarms) / (double)all.Count,
            all.Count(one => one.FalseAlarms > 0),
            all.Sum(one => one.FalseReadyCuts),
            all.Count(one => one.FalseReadyCuts > 0),
            finished.Count,
            finished.Count - ready.Count,
            finished.Count > 0 ? Quantile(finished.Select(one => one.ReadyDelayDays ?? Never), 0.5) : null,
            ready.Count > 0 ? Quantile(ready, 0.9) : null,
            all.Sum(one => one.TrueAlarms) / (double)Math.Max(1, all.Sum(one => one.TrueAlarms + one.MissedAlarms)),
            all.Sum(one => one.TrueAlarms) / (double)Math.Max(1, all.Sum(one => one.TrueAlarms + one.NeedlessAlarms)));
    }
}
