using FermentWatch.Oenology.Tests.Worksheets;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Sulfite;

/// <summary>What the worksheets of sulfite and sorbate say and refuse, as a maker types it.</summary>
public sealed class SulfiteWorksheetTests
{
    [Theory]
    [InlineData("alcohol=12 temperature=12", "temperature", "from 20 to 40 °C")]
    [InlineData("alcohol=16 temperature=25", "alcohol", "from 0 to 15 % vol")]
    [InlineData("temperature=25", "alcohol", "for the table of OIV")]
    [InlineData("alcohol=12", "temperature", "for the table of OIV")]
    public void OivTable_IsNeverContinued(string given, string field, string right)
    {
        var fault = SheetRun.Fault("molecular-sulfite", "ph=3.4 dissociation=oiv-table " + given);
        Assert.Equal(field, fault.Field);
        Assert.Contains(right, fault.Sentence, StringComparison.Ordinal);
    }

    // The same wine: the table of OIV asks for less than the fixed value, and says that two families of data disagree.
    [Fact]
    public void OivTable_AsksForLessAndSaysSo()
    {
        const string Oiv = "ph=3.4 alcohol=12 temperature=20 dissociation=oiv-table";
        Assert.True(SheetRun.Number("molecular-sulfite", Oiv, "free-needed").Value < SheetRun.Number("molecular-sulfite", "ph=3.4", "free-needed").Value);
        Assert.Contains("two-families", SheetRun.Notices("molecular-sulfite", Oiv));
    }

    [Theory]
    [InlineData("ph=3.7", "acid-first")]
    [InlineData("ph=3.7", "tasted")]
    [InlineData("ph=2.9 free-sulfite=60", "stings")]
    public void HighPhOrMuchSulfite_IsSaid(string given, string code)
    {
        Assert.Contains(code, SheetRun.Notices("molecular-sulfite", given));
        Assert.DoesNotContain(code, SheetRun.Notices("molecular-sulfite", "ph=3.3 free-sulfite=20"));
    }

    [Theory]
    [InlineData("free-sulfite=40", "enough")]
    [InlineData("free-sulfite=0", "nothing-free")]
    [InlineData("free-sulfite=10", "in-two-parts")]
    [InlineData("free-sulfite=10", "total-unknown")]
    [InlineData("free-sulfite=10 total-sulfite=120", "near-total-limit")]
    [InlineData("free-sulfite=10 total-sulfite=140", "above-total-limit")]
    public void Dose_SaysHowToGoOn(string given, string code) => Assert.Contains(code, SheetRun.Notices("sulfite-dose", "volume=20 ph=3.3 " + given));

    // Total 140 and 23 more: above 150 (strictest, red), within 350 (United States) and 200 (white).
    [Theory]
    [InlineData("law=us", false)]
    [InlineData("law=eu color=white-or-rose", false)]
    [InlineData("law=oiv sugar=20", false)]
    [InlineData("law=eu color=red", true)]
    [InlineData("law=eu color=red sugar=5", false)]
    public void Limit_FollowsTheLawChosen(string given, bool refuses) =>
        Assert.Equal(refuses, SheetRun.Answer("sulfite-dose", "volume=20 ph=3.3 free-sulfite=10 total-sulfite=140 " + given).IsRefusal);

    [Fact]
    public void TotalBelowTheFree_IsAFault() =>
        Assert.Equal("total-sulfite", SheetRun.Fault("sulfite-dose", "volume=20 ph=3.3 free-sulfite=30 total-sulfite=20").Field);

    [Fact]
    public void OldOrSodiumPowder_ChangesTheGrams()
    {
        const string Given = "volume=20 ph=3.3 free-sulfite=10 ";
        var fresh = SheetRun.Number("sulfite-dose", Given, "powder-first").Value;
        Assert.Equal(fresh / 0.8, SheetRun.Number("sulfite-dose", Given + "powder-strength=80", "powder-first").Value, 1e-9);
        Assert.Equal(fresh * 0.5763 / 0.6740, SheetRun.Number("sulfite-dose", Given + "salt=sodium", "powder-first").Value, 0.001);
        Assert.Equal(fresh * 10, SheetRun.Number("sulfite-dose", Given, "stock-first").Value, 1e-9);
    }

    [Fact]
    public void TabletWithoutItsLabel_IsAFault()
    {
        Assert.Equal("tablet-addition", SheetRun.Fault("sulfite-tablets", "volume=20 addition=50").Field);
        Assert.Equal("tablet-volume", SheetRun.Fault("sulfite-tablets", "volume=20 addition=50 tablet-addition=50").Field);
        Assert.Contains("less-than-one", SheetRun.Notices("sulfite-tablets", "volume=1 addition=20 tablet-addition=50 tablet-volume=4.5"));
        Assert.Contains("rounded", SheetRun.Notices("sulfite-tablets", "volume=20 addition=30 tablet-addition=50 tablet-volume=4.5"));
    }

    [Fact]
    public void PourWithoutAVolume_IsAFault() => Assert.Equal("volume", SheetRun.Fault("sulfite-total", "additions=50 poured=2").Field);

    [Fact]
    public void Ledger_WarnsBeforeAndAboveTheLimit()
    {
        Assert.Contains("near-total-limit", SheetRun.Notices("sulfite-total", "additions=130"));
        Assert.Contains("above-total-limit", SheetRun.Notices("sulfite-total", "additions=151"));
        Assert.Empty(SheetRun.Notices("sulfite-total", "additions=120"));
    }

    [Theory]
    [InlineData("alcohol=12 ph=3.6 active-ferment=no malolactic=prevented", "sorbate-will-not-hold", "Sorbate alone will not hold this.")]
    [InlineData("alcohol=15 ph=3.3 active-ferment=no malolactic=prevented", "beyond-table", "no dose is made up")]
    [InlineData("alcohol=12 ph=3.3 active-ferment=no malolactic=unknown", "malolactic-unknown", "geranium taint")]
    [InlineData("alcohol=10 ph=3.5 active-ferment=no malolactic=prevented law=oiv", "above-sorbic-acid-limit", "less would not be enough")]
    public void Sorbate_RefusesInWords(string given, string code, string words)
    {
        var answer = SheetRun.Answer("sorbate", "volume=20 " + given);
        var notice = Assert.Single(answer.Notices);
        Assert.Equal((NoticeWeight.Refusal, code), (notice.Weight, notice.Code));
        Assert.Contains(words, notice.Text, StringComparison.Ordinal);
        Assert.Empty(answer.Results);
    }

    [Theory]
    [InlineData("", "sulfite-unknown")]
    [InlineData("free-sulfite=5", "too-little-sulfite")]
    public void Sorbate_NeedsSulfite(string given, string code)
    {
        const string Wine = "volume=20 alcohol=12 ph=3.3 active-ferment=no malolactic=prevented ";
        Assert.Contains(code, SheetRun.Notices("sorbate", Wine + given));
        Assert.DoesNotContain(code, SheetRun.Notices("sorbate", Wine + "free-sulfite=30"));
        Assert.Contains("tasted", SheetRun.Notices("sorbate", "volume=20 alcohol=10 ph=3.4 active-ferment=no malolactic=prevented"));
    }

    [Fact]
    public void MustOfHighPh_IsWarnedOf()
    {
        Assert.Contains("high-ph", SheetRun.Notices("sulfite-before-inoculation", "volume=20 start=cultured-yeast ph=3.8"));
        Assert.DoesNotContain("high-ph", SheetRun.Notices("sulfite-before-inoculation", "volume=20 start=cultured-yeast ph=3.6"));
        Assert.True(SheetRun.Answer("sulfite-before-inoculation", "volume=20 start=malolactic-bacteria").IsRefusal);
    }
}
