using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tannin;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Tannin;

/// <summary>Ranges as they stand in tannin.csv; weak evidence, so ranges are all there is to check.</summary>
public sealed class TanninSupplyTests
{
    [Fact]
    public void PublishedRanges_StandInTheCode()
    {
        var rows = ReferenceTable.Read("tannin.csv").ToDictionary(row => row.Id, row => row.Expected);
        Assert.Equal(rows["LIM-tannin-001"], FormattableString.Invariant($"{TanninSupply.LeastRecommendedMilligramsPerLiter}-{TanninSupply.MostRecommendedMilligramsPerLiter}"));
        Assert.Equal(rows["LIM-tannin-003"], FormattableString.Invariant($"{100 * TanninSupply.LeastContent}-{100 * TanninSupply.HighestContent}"));
        Assert.Equal(rows["LIM-tannin-005"], string.Join("; ", TanninSupply.TrialDoses));
    }

    // Sanity checks only: from memory.
    [Fact]
    public void RangesFromMemory_StandInTheCode()
    {
        var rows = ReferenceTable.Read("tannin.csv").ToDictionary(row => row.Id);
        Assert.Equal("from-memory", rows["LIM-tannin-009"].Status);
        Assert.Equal(rows["LIM-tannin-009"].Expected, FormattableString.Invariant($"{TanninSupply.LeastTeaMilligrams}-{TanninSupply.MostTeaMilligrams}"));
        Assert.Equal((7, 14), (TanninSupply.LeastWaitDays, TanninSupply.MostWaitDays));
        Assert.StartsWith("1-2 weeks", rows["LIM-tannin-006"].Expected, StringComparison.Ordinal);
    }

    [Property(MaxTest = 300)]
    public Property PowderAndTannin_AreInverse() => Prop.ForAll(
        Numbers.Between(1, 500).ToArbitrary(),
        Numbers.Between(0.05, 1).ToArbitrary(),
        (tannin, content) => Math.Abs(TanninSupply.TanninOf(TanninSupply.PowderFor(Mg(tannin), content), content).MilligramsPerLiter - tannin) < 1e-9);

    [Property(MaxTest = 300)]
    public Property Steps_RiseEvenlyToTheDoseAndAreSmall() => Prop.ForAll(
        Numbers.Between(1, 2000).ToArbitrary(),
        dose =>
        {
            var steps = TanninSupply.Steps(Mg(dose));
            var first = steps[0];
            return steps.Count >= 2 && first <= 100 + 1e-6 && Math.Abs(steps[^1] - dose) < 1e-9
                && steps.Select((step, index) => Math.Abs(step - (first * (index + 1)))).Max() < 1e-6;
        });

    [Theory]
    [InlineData(50, 2)]
    [InlineData(200, 2)]
    [InlineData(201, 3)]
    [InlineData(300, 3)]
    public void Dose_IsSplitIntoSteps(double dose, int steps) => Assert.Equal(steps, TanninSupply.Steps(Mg(dose)).Count);

    // By hand: 60 mg/L in 5 L are 300 mg: one strong cup of 300 mg or two weak ones of 150.
    [Fact]
    public void Tea_IsARange() => Assert.Equal((1.0, 2.0), TanninSupply.TeaCups(Mg(60), Volume.FromLiters(5)));

    [Fact]
    public void ContentThatIsNone_Throws()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => TanninSupply.PowderFor(Mg(10), 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => TanninSupply.TanninOf(Mg(10), 1.1));
    }

    private static MassConcentration Mg(double value) => MassConcentration.FromMilligramsPerLiter(value);
}
