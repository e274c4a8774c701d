using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfiteLimitsTests
{
    // Bounds as read: 27 CFR 4.22, Regulation (EU) 2019/934 Annex I Part B.
    [Theory]
    [InlineData("LIM-legal-limits-001", Law.Us, WineColor.Red, 0.0)]
    [InlineData("LIM-legal-limits-001", Law.Us, WineColor.WhiteOrRose, 60.0)]
    [InlineData("LIM-legal-limits-002", Law.Eu, WineColor.Red, 4.9)]
    [InlineData("LIM-legal-limits-003", Law.Eu, WineColor.WhiteOrRose, 4.9)]
    [InlineData("LIM-legal-limits-004", Law.Eu, WineColor.Red, 5.0)]
    [InlineData("LIM-legal-limits-005", Law.Eu, WineColor.WhiteOrRose, 5.0)]
    public void TotalLimit_IsTheReadBound(string id, Law law, WineColor color, double sugar) =>
        Assert.Equal(Row(id).ExpectedNumber, SulfiteLimits.Total(law, color, sugar).MilligramsPerLiter);

    // OIV from memory: 150 and 200 dry, 300 above 4 g/L.
    [Theory]
    [InlineData(WineColor.Red, 4.0, 150)]
    [InlineData(WineColor.WhiteOrRose, 4.0, 200)]
    [InlineData(WineColor.Red, 4.1, 300)]
    public void TotalLimitOfOiv_IsTheRememberedOne(WineColor color, double sugar, double expected) =>
        Assert.Equal(expected, SulfiteLimits.Total(Law.Oiv, color, sugar).MilligramsPerLiter);

    [Fact]
    public void NoLawChosen_TakesTheStrictest()
    {
        foreach (var color in Enum.GetValues<WineColor>())
        {
            foreach (double? sugar in new double?[] { null, 0, 4.5, 20 })
            {
                var strictest = SulfiteLimits.Total(Law.Strictest, color, sugar);
                Assert.All(Enum.GetValues<Law>(), law => Assert.True(strictest <= SulfiteLimits.Total(law, color, sugar)));
                Assert.Contains(Enum.GetValues<Law>().Skip(1), law => SulfiteLimits.Total(law, color, sugar) == strictest);
            }
        }

        Assert.Equal(150, SulfiteLimits.Total(Law.Strictest, WineColor.Unknown, null).MilligramsPerLiter);
    }

    [Fact]
    public void Label_IsNeededFromTen()
    {
        Assert.Equal(Row("LIM-legal-limits-010").ExpectedNumber, SulfiteLimits.Label.MilligramsPerLiter);
        Assert.Equal(Row("LIM-legal-limits-011").ExpectedNumber, SulfiteLimits.Label.MilligramsPerLiter);
        Assert.True(SulfiteLimits.NeedsLabel(MassConcentration.FromMilligramsPerLiter(10)));
        Assert.False(SulfiteLimits.NeedsLabel(MassConcentration.FromMilligramsPerLiter(9.9)));
    }

    private static ReferenceRow Row(string id) => Assert.Single(ReferenceTable.Read("legal-limits.csv"), row => row.Id == id);
}
