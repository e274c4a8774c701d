using System.Globalization;

namespace FermentWatch.Service.Backtest;

/// <summary>Prints scores as plain text.</summary>
internal static class ScoreTable
{
    /// <summary>One block for each group.</summary>
    public static void Print(IReadOnlyList<GroupScore> groups, TextWriter text)
    {
        foreach (var group in groups)
        {
            text.WriteLine($"== {group.Name}  (SG points = 0.001)");
            text.WriteLine("  frac   n  FG-MAE  median  p90   bias  cov50 cov90  w50   w90   WIS  | finish n  MAE d  med d cov90");
            foreach (var share in BacktestScore.Shares.Where(group.AtShares.ContainsKey))
            {
                var a = group.AtShares[share];
                text.WriteLine(
                    $"  {share,3}% {a.Count,4} {F(a.MeanError),6} {F(a.MedianError),6} {F(a.NinetiethError),6} {F(a.Bias),6}  {F(a.HalfCoverage)}  {F(a.NineTenthsCoverage)} "
                    + $"{F(a.HalfWidth, 1),5} {F(a.NineTenthsWidth, 1),5} {F(a.IntervalScore),5}  |  {a.FinishCount,4}  {F(a.FinishMeanError)}  {F(a.FinishMedianError)}  {F(a.FinishCoverage)}");
            }

            var d = group.Decisions;
            text.WriteLine(
                $"  state acc {F(d.StateAccuracy)} (active=slowing {F(d.MergedStateAccuracy)}); stuck n={d.StuckCount} recall {F(d.StuckRecall)} "
                + $"delay med {F(d.StuckDelayMedian)} p90 {F(d.StuckDelayNinetieth)} d; false stuck alarms/ferment {F(d.FalseAlarmsPerFerment, 3)} ({d.FermentsWithFalseAlarm} ferments)");
            text.WriteLine(
                $"  READY: false-ready ferments {d.FalseReadyFerments} of {d.Ferments} (cuts {d.FalseReadyCuts}); true ready n={d.ReadyCount} never {d.NeverReady} "
                + $"delay med {F(d.ReadyDelayMedian)} p90 {F(d.ReadyDelayNinetieth)} d; temp alarm recall {F(d.TemperatureRecall)} precision {F(d.TemperaturePrecision)}; missing preds {d.Missing}");
        }
    }

    /// <summary>Fixed digits; a number that lies exactly between two goes to the even one, as IEEE 754 rounds.</summary>
    internal static string F(double? number, int digits = 2)
    {
        const double Fine = 1 << 20;
        if (number is not { } value)
        {
            return "-";
        }

        return Math.Abs(value) < 1e6 && Math.Floor(value * Fine).Equals(value * Fine)
            ? decimal.Round((decimal)value, digits, MidpointRounding.ToEven).ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
            : value.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}
