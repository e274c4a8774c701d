using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

/// <summary>Thresholds of the table against those that the palate kit is built around; from-memory rows are sanity checks only.</summary>
public sealed class PublishedThresholdsTests
{
    private const double SucroseGramsPerMole = 342.30;

    // Measured in water: 13.7 mmol/L by adults; children need more, so the kit is for adults.
    [Fact]
    public void Sugar_IsTheThresholdOfAdults()
    {
        Assert.Equal(Row("001").Numbers[0] * SucroseGramsPerMole / 1000, TasteStimulus.Sugar.LowGramsPerLiter, 0.005);
        Assert.True(Row("003").Numbers[0] * SucroseGramsPerMole / 1000 > 3 * TasteStimulus.Sugar.HighGramsPerLiter);
    }

    // 1.98 g/L as tartaric, detected in white wine.
    [Fact]
    public void Lactic_IsThePublishedThreshold()
    {
        var asLactic = Row("007").ExpectedNumber * WeakAcid.Lactic.GramsPerEquivalent / WeakAcid.Tartaric.GramsPerEquivalent;
        Assert.Equal(asLactic, TasteStimulus.Lactic.LowGramsPerLiter, 0.005);
    }

    // What is recognized lies above what is detected.
    [Fact]
    public void Recognition_LiesAboveDetection()
    {
        Assert.True(Row("006").ExpectedNumber > TasteStimulus.Tartaric.HighGramsPerLiter);
        Assert.True(Row("010").ExpectedNumber > Row("009").ExpectedNumber);
    }

    // Acids that no kit holds were noticed at about the same rise of acidity: 1.0 to 1.3 g/L against 1.3 of tartaric from the same base.
    [Theory]
    [InlineData("013")]
    [InlineData("014")]
    public void OtherAcidsFromTheSameBase_AreNoticedAlike(string number) =>
        Assert.InRange(Row(number).ExpectedNumber, 0.75 * TasteStimulus.Tartaric.LowGramsPerLiter, TasteStimulus.Tartaric.LowGramsPerLiter);

    // At equal moles citric is the most sour: it has three protons, and of the four the most acidity for a mole.
    [Fact]
    public void SournessAtEqualMoles_FollowsTheAcidity()
    {
        Assert.StartsWith("citric most", Row("015").Expected, StringComparison.Ordinal);
        Assert.All(WeakAcid.All.Where(acid => acid != WeakAcid.Citric), acid => Assert.True(acid.Protons < WeakAcid.Citric.Protons));
    }

    // Diacetyl: from 0.2 mg/L in a light white to 2.8 in a full red; the others lie between.
    [Fact]
    public void Diacetyl_SpansThePublishedWines()
    {
        var (low, high) = (1000 * TasteStimulus.Diacetyl.LowGramsPerLiter, 1000 * TasteStimulus.Diacetyl.HighGramsPerLiter);
        Assert.Equal(Row("029").ExpectedNumber, low, 9);
        Assert.Equal(Row("031").ExpectedNumber, high, 9);
        Assert.InRange(Row("030").ExpectedNumber, low, high);
        Assert.InRange(Row("033").ExpectedNumber, low, high);
    }

    // What improves a dry red, and the means with and without bacteria, lie where the kit's glasses do: the threshold and up to five times.
    [Theory]
    [InlineData("034")]
    [InlineData("035")]
    public void DiacetylOfRealWines_CanBeShownByTheKit(string number) => Assert.All(Row(number).Numbers, milligrams => Assert.InRange(
        milligrams / 1000,
        TasteStimulus.Diacetyl.LowGramsPerLiter,
        PalateKit.HighestSmellMultiple * TasteStimulus.Diacetyl.MiddleGramsPerLiter * 1.1));

    [Fact]
    public void AceticAcidAndAcetaldehyde_AreThePublishedRanges()
    {
        Assert.Equal([1000 * TasteStimulus.Acetic.LowGramsPerLiter, 1000 * TasteStimulus.Acetic.HighGramsPerLiter], Row("037").Numbers);
        Assert.Equal([1000 * TasteStimulus.Acetaldehyde.LowGramsPerLiter, 1000 * TasteStimulus.Acetaldehyde.HighGramsPerLiter], Row("039").Numbers);
        Assert.True(Row("038").Numbers[0] < 1000 * TasteStimulus.Acetic.LowGramsPerLiter);
    }

    // The taste of acid follows titratable acidity first, then pH.
    [Fact]
    public void AcidTaste_FollowsAcidityThenPh()
    {
        Assert.StartsWith("titratable acidity, then pH", Row("066").Expected, StringComparison.Ordinal);
        Assert.True(AcidTaste.Index(8, 3.4) > AcidTaste.Index(6, 3.4));
        Assert.True(AcidTaste.Index(6, 3.2) > AcidTaste.Index(6, 3.6));
        Assert.True(AcidTaste.Index(8, 3.4) - AcidTaste.Index(6, 3.4) > AcidTaste.Index(6, 3.0) - AcidTaste.Index(6, 3.8));
    }

    // Tannic acid tastes astringent rather than bitter, gallic acid and catechin the reverse: tannin is judged as tannin, bitter beside it.
    [Fact]
    public void Tannin_IsAstringentAndBitterHasItsOwnScale()
    {
        Assert.StartsWith("astringent than bitter", Row("061").Expected, StringComparison.Ordinal);
        Assert.Equal(TasteQuality.Tannin, TrialAdditive.Tannin.Moves);
        Assert.Contains(TasteQuality.Bitter, Enum.GetValues<TasteQuality>());
    }

    // A difference of alcohol is noticed from half to one and a half % vol: no less than the error that stands beside a computed alcohol.
    [Theory]
    [InlineData("017")]
    [InlineData("018")]
    [InlineData("019")]
    [InlineData("021")]
    [InlineData("022")]
    [InlineData("023")]
    public void NoticedAlcohol_IsMoreThanTheErrorOfTheBalanceOfMass(string number)
    {
        var error = FermentWatch.Oenology.Alcohol.MassBalance.Of(SpecificGravity.FromRatio(1.095), SpecificGravity.FromRatio(0.996)).Alcohol.Tolerance;
        Assert.InRange(Row(number).ExpectedNumber, error, 1.5);
    }

    // Dilutions of a taste test, from memory: each series crosses the threshold that its kit is built around.
    [Theory]
    [InlineData("072", "sucrose")]
    [InlineData("073", "citric-acid")]
    [InlineData("074", "caffeine")]
    public void DilutionSeriesFromMemory_ReachTheThresholdsOfTheKit(string number, string code)
    {
        var row = Row(number);
        Assert.Equal("from-memory", row.Status);
        var stimulus = TasteStimulus.All.Single(one => one.Code == code);
        Assert.Equal(8, row.Numbers.Count);
        Assert.InRange(stimulus.MiddleGramsPerLiter, row.Numbers[^1], row.Numbers[0]);
        Assert.All(row.Numbers.Zip(row.Numbers.Skip(1)), pair => Assert.Equal(row.Input("ratio"), pair.Second / pair.First, 0.06));
    }

    // Solutions that everyone should know, from memory: one to six times what the kit takes for noticed.
    [Theory]
    [InlineData("068", "sucrose")]
    [InlineData("069", "citric-acid")]
    [InlineData("070", "caffeine")]
    public void ReferenceSolutionsFromMemory_AreEasilyTasted(string number, string code)
    {
        Assert.Equal("from-memory", Row(number).Status);
        Assert.True(Row(number).ExpectedNumber > 2 * TasteStimulus.All.Single(one => one.Code == code).HighGramsPerLiter);
    }

    // Sanity of what the kit takes from memory itself: citric 0.1 to 0.2, tannic acid 0.014 to 0.02, caffeine 0.1 to 0.2 g/L.
    [Fact]
    public void ThresholdsFromMemory_AreMarkedSoInTheKit()
    {
        Assert.All(new[] { TasteStimulus.Citric, TasteStimulus.Caffeine, TasteStimulus.TannicAcid }, stimulus => Assert.Empty(stimulus.SourceKey));
        Assert.All<string>(["078", "080", "082"], number => Assert.Equal("from-memory", Row(number).Status));
        Assert.Equal((TasteStimulus.Citric.LowGramsPerLiter, TasteStimulus.Citric.HighGramsPerLiter), (Row("078").Numbers[2], Row("078").Numbers[3]));
        Assert.Equal([1000 * TasteStimulus.TannicAcid.LowGramsPerLiter, 1000 * TasteStimulus.TannicAcid.HighGramsPerLiter], Row("080").Numbers);
        Assert.Equal([1000 * TasteStimulus.Caffeine.LowGramsPerLiter, 1000 * TasteStimulus.Caffeine.HighGramsPerLiter], Row("082").Numbers.Skip(2));
    }

    // From memory: 5 to 10 g/L of sugar are noticed in wine, which is more than in water; sucrose in water between fructose and glucose.
    [Fact]
    public void SugarNoticedInWine_LiesAboveWater()
    {
        Assert.Equal("from-memory", Row("079").Status);
        Assert.True(Row("079").Numbers[0] > TasteStimulus.Sugar.LowGramsPerLiter);
        Assert.Equal("from-memory", Row("077").Status);
        Assert.InRange(TasteStimulus.Sugar.LowGramsPerLiter, Row("077").Numbers[0], Row("077").Numbers[3]);
    }

    // Groups found the same threshold three times within a tenth: the spread is between people.
    [Fact]
    public void GroupThreshold_IsAGeometricMeanThatRepeats()
    {
        var group = ForcedChoice.Group(Row("053").Numbers);
        Assert.InRange(group.GeometricMean, group.Lowest, group.Highest);
        Assert.InRange(group.Highest / group.Lowest, 1, 1.1);
    }

    private static ReferenceRow Row(string number) => ReferenceTable.Row("sensory-thresholds.csv", "SEN-thresholds-" + number);
}
