using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Bottling;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests.Limits;

/// <summary>Figures of laws that no additive's limit carries, held against what the product says in their place.</summary>
public sealed class LegalFactsTests
{
    // Named sweet wines may have 300 to 400 mg/L; they are not offered, so every limit here lies below, or at most at the first.
    [Fact]
    public void NamedSweetWines_AreNotOffered()
    {
        var named = Row("006").Numbers;
        Assert.All(new[] { 0.0, 4.9, 5, 60, 400 }, sugar =>
            Assert.True(SulfiteLimits.Total(Law.Eu, WineColor.WhiteOrRose, sugar).MilligramsPerLiter < named[0]));
        Assert.Equal(400, named[1]);
    }

    // Laws that can't be chosen: what is recommended for all stays below their figures.
    [Fact]
    public void OtherCountries_AllowMoreThanIsRecommended()
    {
        Assert.Equal("from-memory", Row("008").Status);
        Assert.All(Row("008").Numbers, limit => Assert.True(AdditiveRules.Of(Additive.SulfurDioxide).Recommended!.Highest.MilligramsPerLiter < limit));
        Assert.True(SulfiteLimits.FreeTasted.MilligramsPerLiter < Row("009").ExpectedNumber);
    }

    // Volatile acidity in two units: 0.12 g in 100 mL of acetic acid are the 20 meq/L of the other law, by our mass of an equivalent.
    [Fact]
    public void VolatileAcidity_IsTheSameInBothUnits()
    {
        double Milliequivalents(string id) => 10_000 * Row(id).ExpectedNumber / AcidBasis.Acetic.GramsPerEquivalent();
        Assert.Equal(Row("022").ExpectedNumber, Milliequivalents("021"), 0.05);
        Assert.InRange(Milliequivalents("020"), 23, 24);
        Assert.Equal("from-memory", Row("023").Status);
        Assert.Equal(Row("022").ExpectedNumber, Row("023").Numbers[0]);
        Assert.All(Enum.GetValues<AcidProfile>(), profile =>
            Assert.True(AcidProfiles.MixtureOf(profile).GramsPerLiterOf(WeakAcid.Acetic) < 10 * Row("021").ExpectedNumber));
    }

    // A tax class of the United States ends at 3.92 g/L of gas; at 20 °C that is far above what the European Union calls still.
    [Fact]
    public void GasOfStillWine_IsTheSameFigureInBothTables()
    {
        var limit = ReferenceTable.Row("solubility.csv", "CAR-solubility-031").ExpectedNumber;
        Assert.Equal(limit, 10 * Row("032").ExpectedNumber, 9);
        Assert.True(10 * Row("033").ExpectedNumber > limit);
        var tolerance = ReferenceTable.Row("solubility.csv", "CAR-solubility-032").ExpectedNumber;
        Assert.InRange(tolerance / limit, 0.02, 0.025);
        var gauge = CarbonDioxideSolubility.PressureOf(
            MassConcentration.FromGramsPerLiter(limit), Temperature.FromCelsius(20), AlcoholByVolume.FromPercent(12), SugarConcentration.FromGramsPerLiter(2)).Value.GaugeBar;
        Assert.Equal(SparklingClass.SemiSparkling, SparklingClasses.Of(gauge));
    }

    [Fact]
    public void HomeWine_IsNotForSale()
    {
        Assert.Equal("yes", Row("031").Expected);
        Assert.Contains("not be sold", Caution.LocalLaw.Text, StringComparison.Ordinal);
        var lines = LabelText.Lines(new() { Alcohol = AlcoholByVolume.FromPercent(12), Law = Law.Us, Milliliters = 750, TotalSulfite = null });
        Assert.Contains("Home-made. Not for sale", lines);
    }

    private static ReferenceRow Row(string number) => ReferenceTable.Row("legal-limits.csv", "LIM-legal-limits-" + number);
}
