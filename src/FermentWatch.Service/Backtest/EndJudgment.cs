using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>One forecast of the end against the truth. Gravity in points, times in days.</summary>
internal sealed record EndJudgment(
    string Family,
    string Share,
    bool IsMissing,
    double Error,
    bool InHalf,
    bool InNineTenths,
    double HalfWidth,
    double NineTenthsWidth,
    double IntervalScore)
{
    // Longest error of a finish that counts, and the error of 'not in sight'. [days]
    private const double WorstFinish = 30;
    private const double LatestFinishHours = 80 * 24;

    /// <summary>How long the effect of an act cannot be seen yet. [h]</summary>
    private static readonly Dictionary<string, double> Settling = new(StringComparer.Ordinal)
    {
        ["temp_drop"] = 36,
        ["warm_up"] = 36,
        ["nutrient"] = 36,
        ["nutrient_rescue"] = 36,
        ["feed"] = 12,
    };

    /// <summary>Error of the finish; null where none was asked for.</summary>
    public double? FinishError { get; init; }

    /// <summary>Whether the finish lay in its 9-in-10 range.</summary>
    public bool InFinish { get; init; }

    /// <summary>The judgments of one ferment, at most one for each share.</summary>
    public static IEnumerable<EndJudgment> Of(FermentTruth truth, IReadOnlyDictionary<int, Prediction> told)
    {
        foreach (var share in BacktestScore.Shares)
        {
            var cut = truth.Cuts.FirstOrDefault(cut => cut.Hours >= truth.ShareHours[share] && !IsDisturbed(truth, cut.Hours));
            if (cut is not null)
            {
                yield return Of(truth, share, cut, told.GetValueOrDefault(cut.Number));
            }
        }
    }

    private static bool IsDisturbed(FermentTruth truth, double hours) =>
        truth.Acts.Any(act => hours - act.Hours >= 0 && hours - act.Hours < Settling.GetValueOrDefault(act.Kind));

    private static EndJudgment Of(FermentTruth truth, string share, TruthCut cut, Prediction? told)
    {
        double?[] given = told?.FinalGravity is { } ends ? [ends.P05, ends.P25, ends.P50, ends.P75, ends.P95] : [];
        var isMissing = given.Length == 0 || Array.Exists(given, one => one is null);
        double[] q = isMissing
            ? [cut.Gravity, cut.Gravity, cut.Gravity, cut.Gravity, cut.Gravity]
            : [.. given.Select(one => one!.Value).Order()];
        var y = cut.FinalGravity;
        var judged = new EndJudgment(
            truth.Family,
            share,
            isMissing,
            (q[2] - y) * 1e3,
            q[1] <= y && y <= q[3],
            q[0] <= y && y <= q[4],
            (q[3] - q[1]) * 1e3,
            (q[4] - q[0]) * 1e3,
            Weighted([.. q.Select(one => one * 1e3)], y * 1e3));
        if (cut.Remaining <= 0.001 || cut.EndsStuck || cut.FinishHours >= LatestFinishHours)
        {
            return judged;
        }

        double? Hours(EventTime? time) => time is { } at ? (at - truth.InoculatedAt).TotalHours : null;
        var (low, middle, high) = (Hours(told?.Finish.P05), Hours(told?.Finish.P50), Hours(told?.Finish.P95));
        return judged with
        {
            FinishError = middle is { } hours ? Math.Min(Math.Abs(hours - cut.FinishHours) / 24, WorstFinish) : WorstFinish,
            InFinish = low <= cut.FinishHours && (high is null || cut.FinishHours <= high),
        };
    }

    /// <summary>Weighted interval score: the continuous ranked probability score by five quantiles.</summary>
    private static double Weighted(double[] q, double y)
    {
        var half = q[3] - q[1] + (4 * Math.Max(q[1] - y, 0)) + (4 * Math.Max(y - q[3], 0));
        var nineTenths = q[4] - q[0] + (20 * Math.Max(q[0] - y, 0)) + (20 * Math.Max(y - q[4], 0));
        return ((0.5 * Math.Abs(y - q[2])) + (0.25 * half) + (0.05 * nineTenths)) / 2.5;
    }
}
