using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class RecordedClockTests
{
    [Theory]
    [InlineData(-4.2)]
    [InlineData(5.5)]
    [InlineData(-500000)]
    public void ClockOffForAWhile_IsRepairedFromTheOrder(double offHours)
    {
        var truth = Enumerable.Range(0, 200).Select(i => i * 0.5).ToList();
        var placed = Placed(truth.Select(hours => hours is >= 40 and < 60 ? hours + offHours : hours));
        for (var i = 0; i < truth.Count; i++)
        {
            Assert.Equal(truth[i], placed[i].At.UnixMicroseconds / 3.6e9, 0.6);
            Assert.Equal(truth[i] is < 40 or >= 60, placed[i].ClockTrusted);
        }
    }

    [Fact]
    public void SwappedNeighborsAndSilence_AreTrusted()
    {
        double[] stamps = [0, 0.5, 1.5, 1, 2, 2.5, 14, 14.5, 15, 15.5];
        Assert.All(Placed(stamps).Zip(stamps), pair =>
        {
            Assert.True(pair.First.ClockTrusted);
            Assert.Equal(pair.Second, pair.First.At.UnixMicroseconds / 3.6e9, 9);
        });
    }

    private static IReadOnlyList<PlacedStamp> Placed(IEnumerable<double> hours) =>
        RecordedClock.FromArrivalOrder([.. hours.Select(hour => new EventTime((long)Math.Round(hour * 3.6e9)))]);
}
