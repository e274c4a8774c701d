using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfiteLedgerTests
{
    [Fact]
    public void Additions_AddUp()
    {
        var total = SulfiteLedger.Total([Added(50), Added(30), Added(12.5)]);
        Assert.Equal(92.5, total.Value.MilligramsPerLiter, 1e-9);
        Assert.Equal(30, total.Tolerance);
    }

    // By hand: 80 mg/L in 20 L and 4 L without any make 66.7 mg/L in 24 L.
    [Fact]
    public void TopUp_Dilutes() => Assert.Equal(
        80 * 20 / 24.0,
        SulfiteLedger.Total([Added(80), new SulfiteEntry.ToppedUp(Volume.FromLiters(20), Volume.FromLiters(4), MassConcentration.None)]).Value.MilligramsPerLiter,
        1e-9);

    // What yeast formed is thinned too: 30 x 20/24.
    [Fact]
    public void TopUp_ThinsWhatYeastFormed() => Assert.Equal(
        25,
        SulfiteLedger.Total([new SulfiteEntry.ToppedUp(Volume.FromLiters(20), Volume.FromLiters(4), MassConcentration.None)]).Tolerance,
        1e-9);

    [Fact]
    public void MeasuredTotal_CountsInsteadOfWhatWasBefore()
    {
        var total = SulfiteLedger.Total([Added(80), new SulfiteEntry.Measured(MassConcentration.FromMilligramsPerLiter(60)), Added(20)]);
        Assert.Equal(80, total.Value.MilligramsPerLiter, 1e-9);
        Assert.Equal(10, total.Tolerance);
    }

    [Property(MaxTest = 300)]
    public Property Mass_IsKeptByAPour() => Prop.ForAll(
        Numbers.Between(0, 200).ToArbitrary(),
        Numbers.Between(0, 200).ToArbitrary(),
        Numbers.Between(0.1, 30).ToArbitrary(),
        (first, second, liters) =>
        {
            var after = SulfiteLedger.Total([Added(first), new SulfiteEntry.ToppedUp(Volume.FromLiters(20), Volume.FromLiters(liters), MassConcentration.FromMilligramsPerLiter(second))]);
            return Math.Abs((after.Value.MilligramsPerLiter * (20 + liters)) - (first * 20) - (second * liters)) < 1e-7;
        });

    [Fact]
    public void NoLines_AreNoSulfite() => Assert.Equal(0, SulfiteLedger.Total([]).Value.MilligramsPerLiter);

    [Fact]
    public void FormedByYeast_IsThePrintedBound() => Assert.Equal(
        "<30",
        Assert.Single(ReferenceTable.Read("additions-and-strength.csv"), row => row.Quantity.StartsWith("SO2 formed by yeast", StringComparison.Ordinal)).Expected);

    private static SulfiteEntry.Added Added(double milligramsPerLiter) => new(MassConcentration.FromMilligramsPerLiter(milligramsPerLiter));
}
