using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Alcohol;

public sealed class MassBalanceAllocationTests
{
    // A page draws about 1,000 points, each through the balance: what each left to the collector would add up.
    [Fact]
    public void ThousandChartPoints_LeaveAlmostNothingToTheCollector()
    {
        var original = SpecificGravity.FromRatio(1.095);
        var sum = Chart(original);
        var allocatedBefore = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(sum, Chart(original));
        var allocated = GC.GetAllocatedBytesForCurrentThread() - allocatedBefore;

        TestContext.Current.SendDiagnosticMessage(
            string.Create(CultureInfo.InvariantCulture, $"1,000 mass balances: {allocated} bytes"));
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
