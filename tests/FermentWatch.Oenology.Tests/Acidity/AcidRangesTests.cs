using FermentWatch.Oenology.Acidity;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class AcidRangesTests
{
    // Texts and bounds, as printed.
    [Fact]
    public void Ranges_AreThePrintedOnes()
    {
        var rows = ReferenceTable.Read("ranges-and-balance.csv");
        Assert.Equal("2.9-3.9", rows.Single(row => row.Quantity == "wine pH, usual range").Expected);
        Assert.Equal("6-7 (limits of taste 4-10)", rows.Single(row => row.Quantity == "table wine TA, usual range").Expected);
        Assert.Equal((2.9, 3.9, 4.0, 10.0), (AcidRanges.LowestPh, AcidRanges.HighestPh, AcidRanges.LowestTasted, AcidRanges.HighestTasted));
    }

    // Acids of six white wines [Prenesti2012]: the profile of grape wine lies inside every range.
    [Fact]
    public void ProfileOfGrapeWine_LiesInsideMeasuredWines()
    {
        var row = Assert.Single(ReferenceTable.Read("ranges-and-balance.csv"), row => row.Quantity.Contains("six white wines", StringComparison.Ordinal));
        var parts = row.Expected.Split(';', StringSplitOptions.TrimEntries);
        Assert.Equal(6, parts.Length);
        Assert.All(parts, part =>
        {
            var words = part.Split(' ');
            var bounds = words[1].Split('-').Select(bound => double.Parse(bound, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
            var acid = WeakAcid.All.Single(one => one.Code == words[0]);
            Assert.InRange(AcidProfiles.MixtureOf(AcidProfile.GrapeWine).GramsPerLiterOf(acid), bounds[0], bounds[1]);
        });
    }

    [Fact]
    public void EveryProfile_HoldsAcidOfTheList() => Assert.All(Enum.GetValues<AcidProfile>(), profile =>
    {
        Assert.NotEmpty(AcidProfiles.MixtureOf(profile).MolesPerLiter);
        Assert.All(AcidProfiles.MixtureOf(profile).MolesPerLiter.Keys, acid => Assert.Contains(acid, WeakAcid.All));
    });
}
