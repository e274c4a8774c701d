using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tests.Worksheets;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Acidity;

/// <summary>What was measured or is said of real wines, against the fitted balance of charges within its stated error, and against the words of the sheets.</summary>
public sealed class MeasuredChangesTests
{
    private static readonly AcidBuffer Table = Fitted(3.4, 6.5, AcidProfile.GrapeWine);

    // Bacteria in two wines of one must: with 2 g/L of tartaric 0.26 lower. After the ferment the same lots stood at 3.97 and 3.96.
    [Fact]
    public void TartaricBeforeTheFerment_StillShowsAfterMalolactic()
    {
        Assert.Equal([3.97, 3.96], Row("001").Numbers);
        var (without, with) = (Row("004").Numbers[0], Row("004").Numbers[1]);
        Assert.Equal((3.95, 3.69), (without, with));
        var predicted = Fitted(without, 5, AcidProfile.GrapeWineAfterMalolactic).After(AcidChange.Addition(WeakAcid.Tartaric, Grams(2))).Ph;
        Assert.Equal(with, predicted.Value.Value, predicted.Tolerance);
    }

    // The rule of thumb, 1 g/L of tartaric for 0.1 of pH: the model gives it in a usual wine, and half again as much or as little in others.
    [Fact]
    public void RuleOfThumbForTartaric_IsInsideTheModel()
    {
        Assert.Equal(1, Row("009").ExpectedNumber);
        Assert.Equal(Row("009").Input("ph_change"), Table.After(AcidChange.Addition(WeakAcid.Tartaric, Grams(1))).PhChange, 0.05);
    }

    // 1 g/L of citric acid raises the acidity by 1.17 g/L as tartaric and lowers the pH by 0.08.
    [Fact]
    public void CitricAcid_RaisesAndLowersAsPrinted()
    {
        Assert.Equal(Row("010").Numbers[0], AcidSupply.Powder(WeakAcid.Citric).RiseOf(1).Value.GramsPerLiter(AcidBasis.Tartaric), 0.005);
        Assert.Equal(-Row("010").Numbers[1], Table.After(AcidChange.Addition(WeakAcid.Citric, Grams(1))).PhChange, 0.04);
    }

    // Bacteria raise the pH by 0.2 at most in seven red lots, and by about 0.2 on the mean elsewhere: more where the pH starts higher.
    [Fact]
    public void Malolactic_RaisesThePhAsMeasured()
    {
        var most = Row("011").Numbers[0];
        var changes = new[] { (3.1, 9.0), (3.4, 6.5), (3.8, 5) }
            .Select(wine => Fitted(wine.Item1, wine.Item2, AcidProfile.GrapeWine).After(AcidChange.Malolactic(Grams(2))))
            .ToList();
        Assert.True(changes[0].PhChange < changes[2].PhChange);
        Assert.All(changes, change => Assert.InRange(change.PhChange, 0.02, most));
        Assert.Equal(most, changes[2].PhChange, changes[2].Ph.Tolerance);
        Assert.Equal("about 0.2", Row("012").Expected);
        Assert.Equal(Row("012").Numbers[0], changes[1].PhChange, changes[1].Ph.Tolerance);
    }

    // One malic for one lactic, in nine production lots.
    [Fact]
    public void Malolactic_IsStoichiometric()
    {
        Assert.Equal("stoichiometric", Row("013").Expected);
        Assert.Equal(1 / WeakAcid.Malic.GramsPerMole, MalolacticConversion.LacticFrom(Grams(1)).GramsPerLiter / WeakAcid.Lactic.GramsPerMole, 1e-12);
    }

    // Above 4 g/L of malic acid bacteria are the better way: said where a carbonate is asked for.
    [Fact]
    public void MuchMalicAcid_IsLeftToBacteria()
    {
        Assert.Equal("yes", Row("022").Expected);
        Assert.Contains("more than 4 g/L of malic acid, malolactic conversion", WorksheetCatalog.Find("deacidification")!.Purpose, StringComparison.Ordinal);
    }

    // From 9.6 to 16.8 g/L down to 8: by a double salt that is not offered. With plain carbonate so much is refused.
    [Fact]
    public void AcidMustOfTheDoubleSalt_IsRefusedForPlainCarbonate()
    {
        var fall = Row("023").Numbers;
        Assert.Equal([8.0, 7.0], fall);
        Assert.Contains(SheetRun.Notices("deacidification", "volume=20 ph=2.9 titratable-acidity=14 drink=grape-must alcohol=0 carbonate=potassium-bicarbonate fall=6"), code => code == DoseAssessment.RefusalCode);
    }

    // A home trial, weak: 1 g/L of potassium bicarbonate took 0.8 g/L; the pH rose by 0.35, which is inside the stated error only as its far end.
    [Fact]
    public void HomeTrialWithBicarbonate_FellAsComputed()
    {
        var row = Row("024");
        var buffer = Fitted(row.Input("ph_start"), row.Input("ta_start"), AcidProfile.GrapeWine);
        var carbonate = Carbonate.PotassiumBicarbonate;
        Assert.InRange(row.Input("ta_start") - row.Numbers[0], carbonate.FallWithoutSettling - 0.05, carbonate.FallWithSettling);
        var least = buffer.After(new() { CationMolesPerLiter = row.Input("dose_g_per_L") / carbonate.GramsPerMole });
        Assert.InRange(row.Numbers[1] - row.Input("ph_start"), least.PhChange, 4 * least.PhChange);
    }

    // The same wine with 1 g/L of tartaric: 0.9 of 1 g/L measured. Its fall of pH, 0.3, is not believed: with 2 g/L the winery's trial of
    // row 004 fell by 0.26, so half of that for one, and the model lies there.
    [Fact]
    public void TartaricAddedBack_RaisesTheAcidityAndFallsAsTheWinerysTrial()
    {
        var row = Row("025");
        var after = Fitted(3.8, Row("024").Numbers[0], AcidProfile.GrapeWine).After(AcidChange.Addition(WeakAcid.Tartaric, Grams(row.Input("dose_g_per_L"))));
        Assert.Equal(row.Numbers[0], after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), 0.2);
        var fallOfTheWinery = (Row("004").Numbers[0] - Row("004").Numbers[1]) / 2;
        Assert.Equal(-fallOfTheWinery, after.PhChange, 0.03);
        Assert.True(3.8 - row.Numbers[1] > 2 * fallOfTheWinery);
    }

    // Curves for carbonates need pH, acidity and tartaric acid: the sheet asks for the first two and for the drink.
    [Fact]
    public void Deacidification_AsksForPhAcidityAndDrink()
    {
        Assert.StartsWith("need pH, TA and tartaric acid", Row("026").Expected, StringComparison.Ordinal);
        var keys = WorksheetCatalog.Find("deacidification")!.Inputs.Where(input => !input.IsOptional).Select(input => input.Key).ToList();
        Assert.Superset(new HashSet<string> { "ph", "titratable-acidity", "drink" }, keys.ToHashSet());
    }

    // 490 honeys at pH 3.91, 3.42 to 6.10 in water: the acid of a mead with its potassium lies there.
    [Fact]
    public void PhOfHoney_LiesInThePublishedRange()
    {
        var printed = Row("027").Numbers;
        Assert.Equal([3.91, 3.42, 6.10], printed);
        Assert.Equal((printed[1], printed[2]), (Range("007").Numbers[0] + 0.02, Range("007").Numbers[1]));
        Assert.NotNull(AcidBuffer.Fit(new(Ph.FromValue(printed[0]), TitratableAcidity.FromGramsPerLiter(0.9, AcidBasis.Tartaric), AlcoholByVolume.FromPercent(0)), AcidProfile.Mead));
    }

    [Fact]
    public void UsualAcids_LieInThePrintedRanges()
    {
        Assert.InRange(Range("002").ExpectedNumber, AcidRanges.LowestTasted, AcidRanges.HighestTasted);
        var acetic = Range("005").Numbers;
        Assert.All(Enum.GetValues<AcidProfile>().Where(profile => profile is not AcidProfile.GrapeMust), profile =>
            Assert.InRange(AcidProfiles.MixtureOf(profile).GramsPerLiterOf(WeakAcid.Acetic), acetic[0], acetic[1]));
        Assert.Equal("from-memory", Range("015").Status);
        Assert.True(TasteStimulus.Tartaric.LowGramsPerLiter > Range("015").Numbers[1]);
    }

    // Series in which panels taste: each crosses what the kit takes for noticed.
    [Theory]
    [InlineData("010", "citric-acid")]
    [InlineData("011", "sucrose")]
    [InlineData("012", "caffeine")]
    public void TasteSeries_CrossTheThreshold(string number, string code)
    {
        var series = Range(number).Numbers;
        Assert.Equal(7, series.Count);
        Assert.InRange(TasteStimulus.All.Single(one => one.Code == code).MiddleGramsPerLiter, series[0], series[^1]);
    }

    // Words of the trade, from memory: hard tartaric, green malic, soft lactic, fresh and brief citric.
    [Theory]
    [InlineData("tartaric", "hard")]
    [InlineData("malic", "apple")]
    [InlineData("citric", "brief")]
    [InlineData("lactic-liquid", "soft")]
    public void CharacterOfAnAcid_IsSaidBesideItsDose(string acid, string word)
    {
        Assert.Contains(word, Range("017").Expected, StringComparison.Ordinal);
        var strength = acid == "lactic-liquid" ? " acid-strength=88 acid-density=1200" : string.Empty;
        var answer = SheetRun.Answer("acid-addition", $"volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine alcohol=12 acid={acid} wanted-acidity=5.3{strength}");
        Assert.Contains(word, answer.Notices.Single(notice => notice.Code == "taste").Text, StringComparison.Ordinal);
    }

    // Lactic and succinic acid are weaker by 0.11 to 0.17 in 12 % vol as one reads the constants, the acid of the sulfite table by 0.02 for
    // each percent: what is taken for all acids lies between the least and the most, and 0.1 at most from the measured mean.
    [Fact]
    public void AlcoholWeakensAcids_BetweenTheTwoSources()
    {
        var row = ReferenceTable.Row("dissociation-constants.csv", "ACI-dissociation-constants-021");
        var percent = row.Input("abv_percent");
        var shift = Solvent.Of(AlcoholByVolume.FromPercent(percent)).PKaShift;
        Assert.Contains("0.02 per % ABV", row.Source, StringComparison.Ordinal);
        Assert.InRange(shift, row.Numbers[0], 0.02 * percent);
        Assert.Equal(row.Numbers.Average(), shift, 0.1);
    }

    private static AcidBuffer Fitted(double ph, double acidity, AcidProfile profile) => AcidBuffer.Fit(
        new(Ph.FromValue(ph), TitratableAcidity.FromGramsPerLiter(acidity, AcidBasis.Tartaric), AlcoholByVolume.FromPercent(12)), profile)!;

    private static MassConcentration Grams(double perLiter) => MassConcentration.FromGramsPerLiter(perLiter);

    private static ReferenceRow Row(string number) => ReferenceTable.Row("measured-changes.csv", "ACI-measured-changes-" + number);

    private static ReferenceRow Range(string number) => ReferenceTable.Row("ranges-and-balance.csv", "ACI-ranges-and-balance-" + number);
}
