using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfiteDoseTests
{
    // A guild prints one third, a club one half; the tolerance of the row covers both.
    [Fact]
    public void LeastBound_IsThePrintedThird() => ReferenceCheck.AllAgree(
        "additions-and-strength.csv",
        row => row.Quantity.StartsWith("share of a new addition", StringComparison.Ordinal),
        rows: 1,
        independentRows: 1,
        _ => 100 * SulfiteDose.LeastBound);

    [Fact]
    public void MostBound_IsInsideTheSameRow() => ReferenceCheck.AllAgree(
        "additions-and-strength.csv",
        row => row.Quantity.StartsWith("share of a new addition", StringComparison.Ordinal),
        rows: 1,
        independentRows: 1,
        _ => 100 * SulfiteDose.MostBound);

    [Property(MaxTest = 300)]
    public Property AdditionAndWhatBinds_LeadToTheWantedFree() => Prop.ForAll(
        Numbers.Between(1, 40).ToArbitrary(),
        Numbers.Between(0, 60).ToArbitrary(),
        (measured, rise) =>
        {
            var free = MassConcentration.FromMilligramsPerLiter(measured);
            var addition = SulfiteDose.For(free, MassConcentration.FromMilligramsPerLiter(measured + rise))!.Value;
            return Math.Abs(SulfiteDose.FreeAfter(free, addition.Least, SulfiteDose.LeastBound).MilligramsPerLiter - measured - rise) < 1e-9
                && Math.Abs(SulfiteDose.FreeAfter(free, addition.Most, SulfiteDose.MostBound).MilligramsPerLiter - measured - rise) < 1e-9
                && addition.Most >= addition.Least;
        });

    [Fact]
    public void NothingFreeMeasured_GivesNoDose() =>
        Assert.Null(SulfiteDose.For(MassConcentration.FromMilligramsPerLiter(0.9), MassConcentration.FromMilligramsPerLiter(30)));

    [Fact]
    public void OneMilligramFree_CountsAsMeasured()
    {
        Assert.Equal(1.5 * 29, SulfiteDose.For(MassConcentration.FromMilligramsPerLiter(1), MassConcentration.FromMilligramsPerLiter(30))!.Value.Least.MilligramsPerLiter, 1e-9);
        Assert.Equal(2 * 29, SulfiteDose.For(MassConcentration.FromMilligramsPerLiter(1), MassConcentration.FromMilligramsPerLiter(30))!.Value.Most.MilligramsPerLiter, 1e-9);
        Assert.NotNull(SulfiteDose.For(MassConcentration.None, MassConcentration.None));
    }

    [Fact]
    public void EnoughFree_NeedsNothing()
    {
        var addition = SulfiteDose.For(MassConcentration.FromMilligramsPerLiter(40), MassConcentration.FromMilligramsPerLiter(30))!.Value;
        Assert.Equal(0, addition.Least.MilligramsPerLiter);
        Assert.Equal(0, addition.Most.MilligramsPerLiter);
    }

    [Fact]
    public void FreeShareOfTheTotal_IsThePrintedRange()
    {
        var row = Assert.Single(ReferenceTable.Read("additions-and-strength.csv"), row => row.Quantity.StartsWith("share of total SO2 that is free", StringComparison.Ordinal));
        Assert.Equal("75 .. 35", row.Expected);
        var (least, most) = FreeShare.Of(MassConcentration.FromMilligramsPerLiter(100));
        Assert.Equal(35, least.MilligramsPerLiter, 1e-9);
        Assert.Equal(75, most.MilligramsPerLiter, 1e-9);
    }

    // Common practice, no source: the ranges by history rise with the time since the last addition.
    [Fact]
    public void RangesByHistory_FallWithAFresherAddition()
    {
        var ranges = Enum.GetValues<SulfiteHistory>().Select(SulfiteByHistory.RangeOf).ToList();
        Assert.All(ranges.Zip(ranges.Skip(1)), pair => Assert.True(pair.First.Most > pair.Second.Most && pair.First.Least > pair.Second.Least));
        Assert.Equal(0, ranges[^1].Most.MilligramsPerLiter);
        Assert.Equal(60, ranges[0].Most.MilligramsPerLiter);
    }

    // By hand: 50 mg/L in 20 L are 1 g of sulfur dioxide, 1.735 g of powder, 17.35 mL of a 10 % solution.
    [Fact]
    public void StockSolution_IsPowderOverItsStrength()
    {
        Assert.Equal(17.35, SulfiteStock.MillilitersFor(MassConcentration.FromMilligramsPerLiter(50), Volume.FromLiters(20), SulfiteSalt.Potassium), 0.01);
        Assert.Equal(10, SulfiteStock.GramsFor(100), 1e-12);
    }
}
