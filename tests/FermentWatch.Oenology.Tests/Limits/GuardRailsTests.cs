using System.Text.RegularExpressions;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FermentWatch.Oenology.Worksheets;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Limits;

/// <summary>Limits against the rows of legal-limits.csv and tannin.csv, and the rule that is built on them.</summary>
public sealed partial class GuardRailsTests
{
    private static readonly Law[] Chosen = [Law.Eu, Law.Us, Law.Oiv];

    // Rows without a tolerance are legal figures: they must stand in the catalogue digit for digit. The unit stands in the row.
    [Theory]
    [InlineData("LIM-legal-limits-001", Additive.SulfurDioxide, Law.Us, WineColor.Red, 0)]
    [InlineData("LIM-legal-limits-002", Additive.SulfurDioxide, Law.Eu, WineColor.Red, 4.9)]
    [InlineData("LIM-legal-limits-003", Additive.SulfurDioxide, Law.Eu, WineColor.WhiteOrRose, 4.9)]
    [InlineData("LIM-legal-limits-004", Additive.SulfurDioxide, Law.Eu, WineColor.Red, 5)]
    [InlineData("LIM-legal-limits-005", Additive.SulfurDioxide, Law.Eu, WineColor.WhiteOrRose, 5)]
    [InlineData("LIM-legal-limits-012", Additive.SorbicAcid, Law.Oiv, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-013", Additive.SorbicAcid, Law.Eu, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-014", Additive.SorbicAcid, Law.Us, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-018", Additive.DiammoniumPhosphate, Law.Oiv, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-019", Additive.AmmoniumSulfate, Law.Oiv, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-024", Additive.CitricAcid, Law.Oiv, WineColor.Unknown, 0)]
    [InlineData("LIM-legal-limits-027", Additive.Copper, Law.Oiv, WineColor.Unknown, 0)]
    public void LegalFigureOfTheTable_StandsInTheCatalogue(string id, Additive additive, Law law, WineColor color, double sugar)
    {
        var row = ReferenceTable.Read("legal-limits.csv").Single(one => one.Id == id);
        Assert.Equal("confirmed", row.Status);
        var limit = GuardRails.AbsoluteLimit(additive, law, new(Color: color, SugarGramsPerLiter: sugar))!;
        Assert.Equal(law, limit.Law);
        Assert.Equal(row.ExpectedNumber, row.Unit == "mg/L" ? limit.Highest.MilligramsPerLiter : limit.Highest.GramsPerLiter, 9);
    }

    // Written as two figures in one row: 54 meq/L = 4 g/L as tartaric; 250 / 300 mg/L added / residual; 0.8 / 3.0 g/L white / red.
    [Theory]
    [InlineData("legal-limits.csv", "LIM-legal-limits-025", "4 g/L", Additive.Acid, WineColor.Unknown, 4000)]
    [InlineData("legal-limits.csv", "LIM-legal-limits-028", "250 / ", Additive.AscorbicAcid, WineColor.Unknown, 250)]
    [InlineData("tannin.csv", "LIM-tannin-007", "0.8 white", Additive.TanninPowder, WineColor.WhiteOrRose, 800)]
    [InlineData("tannin.csv", "LIM-tannin-007", "3.0 red", Additive.TanninPowder, WineColor.Red, 3000)]
    public void FigureInsideARow_StandsInTheCatalogue(string table, string id, string printed, Additive additive, WineColor color, double milligrams)
    {
        Assert.Contains(printed, ReferenceTable.Read(table).Single(one => one.Id == id).Expected, StringComparison.Ordinal);
        Assert.Equal(milligrams, GuardRails.AbsoluteLimit(additive, Law.Strictest, new(Color: color))!.Highest.MilligramsPerLiter, 9);
    }

    // Sanity checks only: these rows are from memory, and the catalogue says so too.
    [Theory]
    [InlineData("LIM-legal-limits-015", Law.Us)]
    [InlineData("LIM-legal-limits-017", Law.Eu)]
    public void FigureFromMemory_IsMarkedSo(string id, Law law)
    {
        var row = ReferenceTable.Read("legal-limits.csv").Single(one => one.Id == id);
        var limit = GuardRails.AbsoluteLimit(Additive.DiammoniumPhosphate, law, DoseContext.Unknown)!;
        Assert.Equal(row.ExpectedNumber, limit.Highest.GramsPerLiter, 9);
        Assert.Equal("from-memory", row.Status);
        Assert.Equal(SourceStanding.FromMemory, limit.Source.Standing);
    }

    [Fact]
    public void RecommendedTannin_IsThePublishedRange()
    {
        Assert.Equal("50-300", ReferenceTable.Read("tannin.csv").Single(row => row.Id == "LIM-tannin-001").Expected);
        Assert.Equal(300, AdditiveRules.Of(Additive.TanninPowder).Recommended!.Highest.MilligramsPerLiter, 9);
    }

    [Fact]
    public void NoLawChosen_TheStrictestCounts() => Assert.All(AdditiveRules.All, rule =>
    {
        var strictest = GuardRails.AbsoluteLimit(rule.Additive, Law.Strictest, DoseContext.Unknown);
        Assert.All(Chosen, law =>
        {
            var one = GuardRails.AbsoluteLimit(rule.Additive, law, DoseContext.Unknown);
            Assert.Equal(strictest is null, one is null);
            Assert.True(strictest is null || strictest.Highest <= one!.Highest, rule.Name);
        });
    });

    [Fact]
    public void BeyondTheAbsolute_RefusesNamingLawValueAndSource()
    {
        var said = GuardRails.Assess(Additive.SulfurDioxide, Mg(60), Law.Eu, new(Mg(120), WineColor.Red, 2));
        Assert.Equal(DoseVerdict.BeyondAbsolute, said.Verdict);
        Assert.True(said.IsRefused);
        Assert.Equal("180 mg/L of total sulfur dioxide (with the 120 mg/L already there) is above the limit of 150 mg/L: European Union, Regulation (EU) 2019/934, Annex I part B.", said.Sentence);
        Assert.Equal(NoticeWeight.Refusal, said.Notice!.Weight);
        Assert.Equal(DoseAssessment.RefusalCode, said.Notice.Code);
        Assert.Equal(180, said.Total.MilligramsPerLiter, 9);
    }

    [Fact]
    public void TheSameDoseUnderAnotherLaw_OnlyWarns()
    {
        var said = GuardRails.Assess(Additive.SulfurDioxide, Mg(60), Law.Us, new(Mg(120), WineColor.Red, 2));
        Assert.Equal(DoseVerdict.BeyondRecommended, said.Verdict);
        Assert.False(said.IsRefused);
        Assert.Equal(NoticeWeight.Warning, said.Notice!.Weight);
        Assert.Equal(DoseAssessment.WarningCode, said.Notice.Code);
        Assert.Contains("more than the recommended 150 mg/L", said.Sentence, StringComparison.Ordinal);
        Assert.Equal(350, said.Absolute!.Highest.MilligramsPerLiter, 9);
    }

    [Fact]
    public void WithinEverything_SaysTheLimitAndNoNotice()
    {
        var said = GuardRails.Assess(Additive.SorbicAcid, Mg(100), Law.Eu, DoseContext.Unknown);
        Assert.Equal((DoseVerdict.Within, null), (said.Verdict, said.Exceeded));
        Assert.Null(said.Notice);
        Assert.Equal("100 mg/L of sorbic acid is within the limit of 200 mg/L: European Union, Regulation (EU) 2019/934.", said.Sentence);
    }

    [Fact]
    public void LawWithoutAFigure_TheStrictestKnownCountsAndIsNamed()
    {
        var said = GuardRails.Assess(Additive.AmmoniumSulfate, Mg(301), Law.Us, DoseContext.Unknown);
        Assert.Equal(DoseVerdict.BeyondAbsolute, said.Verdict);
        Assert.Contains("International Organization of Vine and Wine", said.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void RecommendationWithoutSource_SaysCommonPractice()
    {
        var said = GuardRails.Assess(Additive.OakChips, MassConcentration.FromGramsPerLiter(6), Law.Eu, DoseContext.Unknown);
        Assert.Equal("6 g/L of oak chips is more than the recommended 4 g/L: common practice, no source, 2 to 4 g/L, tasted weekly.", said.Sentence);
        Assert.Null(said.Absolute);
        var little = GuardRails.Assess(Additive.Bentonite, MassConcentration.FromGramsPerLiter(0.5), Law.Eu, DoseContext.Unknown);
        Assert.Equal("500 mg/L of bentonite is within the recommended 1 g/L: common practice, no source.", little.Sentence);
    }

    [Fact]
    public void FigureFromMemory_SaysSoInItsSentence() => Assert.EndsWith(
        "(from memory).",
        GuardRails.Assess(Additive.DiammoniumPhosphate, Mg(2000), Law.Us, DoseContext.Unknown).Sentence,
        StringComparison.Ordinal);

    [Property(MaxTest = 500)]
    public Property Verdict_OnlyRisesWithTheDose() => Prop.ForAll(
        Numbers.Between(0, 5000).ToArbitrary(),
        Numbers.Between(0, 5000).ToArbitrary(),
        Numbers.Between(0, 500).ToArbitrary(),
        (one, other, already) => AdditiveRules.All.All(rule => Chosen.Append(Law.Strictest).All(law =>
        {
            var context = new DoseContext(Mg(already));
            var less = GuardRails.Assess(rule.Additive, Mg(Math.Min(one, other)), law, context).Verdict;
            var more = GuardRails.Assess(rule.Additive, Mg(Math.Max(one, other)), law, context).Verdict;
            return less <= more;
        })));

    [Fact]
    public void AtALimit_IsWithinIt_AndAHairBeyondIsNot() => Assert.All(AdditiveRules.All, rule =>
    {
        if (GuardRails.AbsoluteLimit(rule.Additive, Law.Strictest, DoseContext.Unknown) is { } limit)
        {
            Assert.False(GuardRails.Assess(rule.Additive, limit.Highest, Law.Strictest, DoseContext.Unknown).IsRefused, rule.Name);
            Assert.True(GuardRails.Assess(rule.Additive, Mg(limit.Highest.MilligramsPerLiter * 1.001), Law.Strictest, DoseContext.Unknown).IsRefused, rule.Name);
        }
    });

    [Fact]
    public void EveryAdditive_HasARuleWithASource()
    {
        Assert.Equal(Enum.GetValues<Additive>().Order(), AdditiveRules.All.Select(rule => rule.Additive).Order());
        var references = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "REFERENCES.md"));
        foreach (var limit in AdditiveRules.All.SelectMany(rule => rule.Absolute(DoseContext.Unknown).Append(rule.Recommended).OfType<AdditiveLimit>()))
        {
            Assert.True(limit.Source.Standing is not SourceStanding.Published || references.Contains($"| [{limit.Source.Key}] |", StringComparison.Ordinal), limit.Source.Key);
        }

        Assert.All(AdditiveRules.All, rule => Assert.True(rule.Recommended is not null || rule.Absolute(DoseContext.Unknown).Count > 0, rule.Name));
        Assert.Throws<ArgumentOutOfRangeException>(() => AdditiveRules.Of((Additive)99));
    }

    [Fact]
    public void Sentences_NeverCallANumberSafe() => Assert.All(
        AdditiveRules.All.SelectMany(rule => new[] { 1.0, 400, 100_000 }.SelectMany(dose => Chosen.Append(Law.Strictest)
            .Select(law => GuardRails.Assess(rule.Additive, Mg(dose), law, new(Mg(5))).Sentence))),
        sentence => Assert.DoesNotMatch(Safe(), sentence));

    private static MassConcentration Mg(double value) => MassConcentration.FromMilligramsPerLiter(value);

    [GeneratedRegex("safe", RegexOptions.IgnoreCase)]
    private static partial Regex Safe();
}
