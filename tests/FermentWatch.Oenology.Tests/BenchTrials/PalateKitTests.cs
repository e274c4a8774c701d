using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class PalateKitTests
{
    // Published figures in the table of thresholds; the from-memory ones are marked so and not checked as truth.
    [Theory]
    [InlineData("SEN-thresholds-002", 1)]
    [InlineData("SEN-thresholds-005", 1)]
    [InlineData("SEN-thresholds-011", 1)]
    public void StatedThresholds_StandInTheTable(string id, double factor)
    {
        var row = Assert.Single(ReferenceTable.Read("sensory-thresholds.csv"), row => row.Id == id);
        Assert.Equal("confirmed", row.Status);
        var value = factor * row.ExpectedNumber;
        Assert.Contains(TasteStimulus.All, stimulus => stimulus.LowGramsPerLiter == value || stimulus.HighGramsPerLiter == value);
    }

    // 1.98 g/L as tartaric is 1.98 x 90.08/75.04 g/L lactic acid; 13.7 mmol/L of 342.30 g/mol sucrose.
    [Fact]
    public void ConvertedThresholds_FollowFromThePublishedUnits()
    {
        Assert.Equal(1.98 * 90.08 / 75.04, TasteStimulus.Lactic.LowGramsPerLiter, 0.005);
        Assert.Equal(13.7e-3 * 342.30, TasteStimulus.Sugar.LowGramsPerLiter, 0.005);
    }

    [Fact]
    public void Kit_DosesEveryGlassWithinTheTolerance()
    {
        foreach (var stimulus in TasteStimulus.All)
        {
            var kit = PalateKit.Plan(stimulus, [0.5, 1, 2, 4], 100, new DosingSyringe(5, 0.1));
            Assert.Equal(4, kit.Glasses.Length);
            Assert.All(kit.Glasses, glass =>
            {
                Assert.Equal(glass.Multiple * stimulus.MiddleGramsPerLiter, glass.GramsPerLiter, 1e-12);
                Assert.InRange(glass.AchievedGramsPerLiter / glass.GramsPerLiter, 0.95, 1.05);
                Assert.NotNull(glass.StockMilliliters.Shown);
                Assert.Equal(0m, glass.StockMilliliters.Shown!.Value % 0.1m);
            });
            Assert.Equal(stimulus.IsSmellOnly, kit.Notices.Any(notice => notice.Code == BenchNoticeCodes.SmellOnly));
            Assert.Equal(stimulus.SourceKey.Length == 0, kit.Notices.Any(notice => notice.Code == BenchNoticeCodes.FromMemory));
            Assert.Contains(kit.Notices, notice => notice.Code == BenchNoticeCodes.ThresholdsVary);
        }
    }

    // The supplier's bulletin: five times the threshold at most, smell only.
    [Fact]
    public void SmellOnly_StopsAtFiveTimes()
    {
        var row = Assert.Single(ReferenceTable.Read("bench-trials.csv"), row => row.Quantity == "highest spike for smelling");
        Assert.StartsWith(PalateKit.HighestSmellMultiple.ToString(System.Globalization.CultureInfo.InvariantCulture), row.Expected, StringComparison.Ordinal);
        Assert.Equal(5, PalateKit.Plan(TasteStimulus.Diacetyl, [1, 5], 100, new DosingSyringe(5, 0.1)).Glasses[^1].Multiple);
        Assert.Throws<ArgumentOutOfRangeException>(() => PalateKit.Plan(TasteStimulus.Diacetyl, [1, 6], 100, new DosingSyringe(5, 0.1)));
        Assert.Equal(6, PalateKit.Plan(TasteStimulus.Sugar, [1, 6], 100, new DosingSyringe(5, 0.1)).Glasses[^1].Multiple);
    }

    [Fact]
    public void MultiplesTooFarApartForOneStock_AreRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PalateKit.Plan(TasteStimulus.Sugar, [0.1, 10], 20, new DosingSyringe(5, 0.2)));
}
