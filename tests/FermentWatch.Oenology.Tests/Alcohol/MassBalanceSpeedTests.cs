using System.Diagnostics;
using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class MassBalanceSpeedTests
{
    // A page draws about 1,000 points, each through the balance: 10 ms is plenty, the deadline is ten times that.
    [Fact]
    public void ThousandChartPoints_TakeNoTimeThatAReaderNotices()
    {
        var original = SpecificGravity.FromRatio(1.095);
        var sum = Chart(original);
        var watch = Stopwatch.StartNew();
        var allocatedBefore = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(sum, Chart(original));
        var allocated = GC.GetAllocatedBytesForCurrentThread() - allocatedBefore;
        var elapsed = watch.Elapsed.TotalMilliseconds;

        TestContext.Current.SendDiagnosticMessage(
            string.Create(CultureInfo.InvariantCulture, $"1,000 mass balances: {elapsed:F2} ms, {allocated} bytes"));
        Assert.InRange(elapsed, 0, 100);
        Assert.InRange(allocated, 0, 20_000);
    }

    private static double Chart(SpecificGravity original)
    {
        var sum = 0.0;
        for (var i = 0; i < 1000; i++)
        {
            sum += MassBalance.Of(original, SpecificGravity.FromRatio(1.095 - (0.0001 * i))).SugarLeft.Value.GramsPerLiter;
        }

        return sum;
    }
}
