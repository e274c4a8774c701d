using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>What any correction of ranges must keep, whatever its numbers: order, median, scale, and no jumps between its knots.</summary>
public class RangeTableTests
{
    private const int Seed = 20260705;

    [Fact]
    public void AnyQuantiles_KeepTheirMedianAndTheirOrder()
    {
        var random = new Random(Seed);
        for (var i = 0; i < 5000; i++)
        {
            var steps = Enumerable.Range(0, 4).Select(_ => 30 * Math.Pow(random.NextDouble(), 3)).ToArray();
            var low = -20 + (100 * random.NextDouble());
            var raw = new Quantiles<double>(low, low + steps[0], low + steps[0] + steps[1], low + steps[0] + steps[1] + steps[2], low + steps.Sum());
            var share = (1.4 * random.NextDouble()) - 0.2;
            var ends = RangeTable.Corrected(raw, share);
            Assert.Equal(raw.P50, ends.P50);
            Assert.True(ends.P05 <= ends.P25 && ends.P25 <= ends.P50 && ends.P50 <= ends.P75 && ends.P75 <= ends.P95, $"seed {Seed}, draw {i}: {raw} gave {ends}");
            Assert.True(ends.P95 - ends.P05 >= 0.6 * (raw.P95 - raw.P05), $"seed {Seed}, draw {i}: {raw} gave {ends}");
        }
    }

    [Fact]
    public void SmallChange_ChangesLittle()
    {
        static Quantiles<double> Wide(double width) => new(-width / 2, -width / 5, 0, width / 5, width / 2);
        for (var share = 0.0; share <= 1; share += 0.01)
        {
            for (var width = 1.0; width < 120; width *= 1.03)
            {
                var here = RangeTable.Corrected(Wide(width), share);
                Assert.InRange(RangeTable.Corrected(Wide(width), share + 0.001).P95 / here.P95, 0.99, 1.01);
                Assert.InRange(RangeTable.Corrected(Wide(width * 1.001), share).P95 / here.P95, 0.99, 1.01);
            }
        }
    }

    [Fact]
    public void FarFromEveryEnd_InnerRangeIsNarrowedAndNearItWidened()
    {
        // 13 points early: the prior of the dry end decides, which is wide on purpose; 5 points at the end: a sensor's own level decides.
        var early = RangeTable.Corrected(new(-6.5, -2.6, 0, 2.6, 6.5), 0.35);
        var late = RangeTable.Corrected(new(-2.5, -1, 0, 1, 2.5), 0.99);
        Assert.True(early.P75 < 2.6 && late.P75 > 1, $"{early} and {late}");
    }

    [Fact]
    public void FinishOdds_RiseAndStayOdds()
    {
        for (var share = -0.1; share <= 1.1; share += 0.01)
        {
            var odds = RangeTable.FinishOdds(share);
            Assert.True(0 < odds.P05 && odds.P05 < odds.P25 && odds.P25 < odds.P50 && odds.P50 < odds.P75 && odds.P75 < odds.P95 && odds.P95 < 1, $"{share}: {odds}");
            Assert.InRange(RangeTable.EarliestPart(share), 0.5, 1);
        }
    }
}
