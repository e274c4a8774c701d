using System.Globalization;
using System.Text.Json;
using FermentWatch.Service.Backtest;
using Xunit;

namespace FermentWatch.System.Tests.Backtest;

/// <summary>The score against another implementation of it, on random predictions. Source: ReferenceData/backtest-score/README.md.</summary>
public class BacktestScoreTests
{
    private const string Folder = "ReferenceData/backtest-score";

    private static readonly IReadOnlyList<GroupScore> Scores = BacktestScore.Of(
        [.. ReplayFolder.Find(Folder + "/truths").Select(FermentTruth.Read)],
        [.. File.ReadLines(Folder + "/predictions.jsonl").Select((line, i) => Prediction.Read($"line {i + 1}", line))]);

    [Fact]
    public void RandomPredictions_ArePrintedAsTheReferencePrintsThem()
    {
        using var text = new StringWriter { NewLine = "\n" };
        ScoreTable.Print(Scores, text);
        Assert.Equal(File.ReadAllText(Folder + "/expected.txt"), text.ToString());
    }

    [Fact]
    public void RandomPredictions_GetTheFiguresOfTheReferenceToTheLastDigits()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Folder + "/expected.json"));
        var compared = 0;
        foreach (var group in Scores)
        {
            var expected = document.RootElement.GetProperty(group.Name == "OVERALL" ? "overall" : group.Name);
            foreach (var (share, a) in group.AtShares)
            {
                Compare(expected.GetProperty(share), $"{group.Name} {share}",
                    ("n", a.Count), ("mae", a.MeanError), ("med", a.MedianError), ("bias", a.Bias), ("p90", a.NinetiethError), ("c50", a.HalfCoverage),
                    ("c90", a.NineTenthsCoverage), ("w50", a.HalfWidth), ("w90", a.NineTenthsWidth), ("wis", a.IntervalScore), ("miss", a.Missing),
                    ("fin_n", a.FinishCount), ("fin_mae", a.FinishMeanError), ("fin_med", a.FinishMedianError), ("fin_c90", a.FinishCoverage));
            }

            var d = group.Decisions;
            Compare(expected.GetProperty("decide"), group.Name,
                ("ferments", d.Ferments), ("missing", d.Missing), ("state_acc", d.StateAccuracy), ("state_acc_merged", d.MergedStateAccuracy),
                ("stuck_n", d.StuckCount), ("stuck_recall", d.StuckRecall), ("stuck_delay_med_d", d.StuckDelayMedian), ("stuck_delay_p90_d", d.StuckDelayNinetieth),
                ("false_alarm_per_ferment", d.FalseAlarmsPerFerment), ("ferments_with_false_alarm", d.FermentsWithFalseAlarm),
                ("false_ready_cuts", d.FalseReadyCuts), ("false_ready_ferments", d.FalseReadyFerments), ("ready_n", d.ReadyCount), ("never_ready", d.NeverReady),
                ("ready_delay_med_d", d.ReadyDelayMedian), ("ready_delay_p90_d", d.ReadyDelayNinetieth), ("temp_recall", d.TemperatureRecall), ("temp_prec", d.TemperaturePrecision));
        }

        Assert.True(compared > 150, $"only {compared} figures were compared");

        void Compare(JsonElement expected, string where, params (string Name, double? Value)[] figures)
        {
            foreach (var (name, value) in figures)
            {
                var right = expected.GetProperty(name);
                double? number = right.ValueKind == JsonValueKind.Null ? null : right.GetDouble();
                var equal = number is { } known && value is { } ours ? Math.Abs(known - ours) <= 1e-9 * Math.Max(1, Math.Abs(known)) : number is null && value is null;
                Assert.True(equal, string.Create(CultureInfo.InvariantCulture, $"{where} {name}: {value}, the reference has {number}"));
                compared++;
            }
        }
    }

    [Theory]
    [InlineData(0.125, "0.12")]
    [InlineData(0.375, "0.38")]
    [InlineData(0.005, "0.01")]
    [InlineData(-1.875, "-1.88")]
    public void NumberBetweenTwo_IsRoundedToTheEvenOne(double number, string printed) => Assert.Equal(printed, ScoreTable.F(number));
}
