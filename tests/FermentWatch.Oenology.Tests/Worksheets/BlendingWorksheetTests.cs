using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>What the sheets of sweetening and blending say beside their numbers.</summary>
public sealed class BlendingWorksheetTests
{
    private const string Wine = "volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=20 titratable-acidity=6 ";

    [Theory]
    [InlineData("measure=brix rich=90 poor=12 target=24", "rich is 90; it must be a number from 0 to 85 °Bx.")]
    [InlineData("measure=alcohol rich=96 poor=101 target=24", "poor is 101; it must be a number from 0 to 100 % vol.")]
    public void SquareBeyondItsScale_NamesFieldValueAndRange(string given, string sentence) =>
        Assert.Equal(sentence, SheetRun.Fault("pearson-square", given).Sentence);

    [Theory]
    [InlineData("measure=grams-per-liter rich=9 poor=5 target=5", 0, 10)]
    [InlineData("measure=grams-per-liter rich=9 poor=5 target=9", 10, 0)]
    [InlineData("measure=alcohol rich=15 poor=10 target=10", 0, 10)]
    [InlineData("measure=brix rich=20 poor=10 target=20", 10, 0)]
    public void TargetOfOneOfTheTwo_TakesThatOneAlone(string given, double rich, double poor)
    {
        Assert.Equal(rich, Number("pearson-square", given, "rich-volume"), 1e-9);
        Assert.Equal(poor, Number("pearson-square", given, "poor-volume"), 1e-9);
    }

    // By volume 12 : 41 would be 2.26 and 7.74 L; by mass the heavy concentrate takes less room.
    [Fact]
    public void SquareOfBrix_TakesLessVolumeOfTheHeavierOne()
    {
        const string Given = "measure=brix rich=65 poor=12 target=24 blend-volume=10";
        Assert.InRange(Number("pearson-square", Given, "rich-volume"), 1.85, 1.95);
        Assert.Equal("by mass", Words("pearson-square", Given, "parts-by")[0]);
        Assert.Equal("by volume", Words("pearson-square", "measure=alcohol rich=15 poor=10 target=12", "parts-by")[0]);
        var mass = Number("pearson-square", Given, "rich-mass") + Number("pearson-square", Given, "poor-mass");
        Assert.Equal(11.0, mass, 0.02);
    }

    [Theory]
    [InlineData("volumes=20;5 gravities=0.992 alcohols=13;11", "gravities must")]
    [InlineData("volumes=20;5 gravities=0.992;0.995;0.99 alcohols=13;11", "gravities is 0.992;0.995;0.99; it must be as many numbers as there are volumes.")]
    [InlineData("volumes=20;5 gravities=0.992;0.995 alcohols=13;11 phs=3.3;3.5", "acidities is missing; it must be given for each wine, because their pH is given.")]
    [InlineData("volumes=20;5 gravities=0.992;0.995 alcohols=13;11 acidities=6;6 phs=3.3", "phs is")]
    [InlineData("volumes=20;5 gravities=0.992;0.995 alcohols=13;11 acidities=6;0 phs=3.3;3.5", "acidities is 6;0; it must be more for wine 2, beside its pH: one of the two is wrong.")]
    public void BlendWithListsThatDoNotFit_NamesTheList(string given, string begin)
    {
        var sentence = SheetRun.Fault("blend-wines", given).Sentence;
        Assert.StartsWith(begin.Split(' ')[0], sentence, StringComparison.Ordinal);
        Assert.True(!begin.EndsWith('.') || sentence == begin, sentence);
    }

    // The sharper wine is buffered more: equal parts of pH 3.0 and 3.8 end below the mean.
    [Fact]
    public void BlendOfTwoPhs_IsNoMean()
    {
        var ph = Number("blend-wines", "volumes=10;10 gravities=0.992;0.992 alcohols=12;12 acidities=10;4 phs=3.0;3.8", "ph-after");
        Assert.InRange(ph, 3.05, 3.35);
    }

    [Fact]
    public void SugarIntoAWine_TellsItsPh()
    {
        var ph = SheetRun.Number("sweeten", Wine + "sweetener=sucrose ph=3.4 drink=grape-wine", "ph-after");
        Assert.InRange(ph.Value, 3.39, 3.41);
        Assert.InRange(ph.Tolerance!.Value, 0.05, 0.06);
        Assert.Equal(ph.Value, SheetRun.Number("sweeten", Wine + "sweetener=sucrose ph=3.4", "ph-after").Value);
    }

    [Fact]
    public void HoneyIntoAWine_BringsALittleAcid()
    {
        const string Honey = Wine + "sweetener=honey ph=3.4";
        Assert.InRange(SheetRun.Number("sweeten", Honey, "ph-after").Value, 3.38, 3.41);
        Assert.True(SheetRun.Number("sweeten", Honey, "titratable-acidity-after").Value > SheetRun.Number("sweeten", Wine + "sweetener=honey", "titratable-acidity-after").Value);
    }

    [Theory]
    [InlineData("sweetener=concentrate sweetener-brix=65 ph=3.4", "juice-acid")]
    [InlineData("sweetener=dextrose ph=3.4", "tastes-less-sweet")]
    [InlineData("sweetener=dextrose-monohydrate", "tastes-less-sweet")]
    public void WhatElseIsToBeSaid_IsSaid(string given, string code) =>
        Assert.Contains(SheetRun.Answer("sweeten", Wine + given).Notices, notice => notice.Code == code);

    [Fact]
    public void PhAndAcidityThatContradict_GiveNoPhAndSayWhy()
    {
        var answer = SheetRun.Answer("sweeten", (Wine + "sweetener=sucrose ph=2.5").Replace("titratable-acidity=6", "titratable-acidity=0.1", StringComparison.Ordinal));
        Assert.DoesNotContain(answer.Results, result => result.Output.Key == "ph-after");
        Assert.Contains(answer.Notices, notice => notice.Code == "acid-contradicts");
    }

    [Fact]
    public void PhWithoutAcidity_GivesNoPh() => Assert.DoesNotContain(
        SheetRun.Answer("sweeten", "volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=20 sweetener=sucrose ph=3.4").Results, result => result.Output.Key == "ph-after");

    [Fact]
    public void SweetnessScale_NamesEveryWordWithItsBounds()
    {
        Assert.Equal(
            ["dry: 0 to 8 g/L", "medium dry (semi-dry): 8 to 16 g/L", "medium (semi-sweet): 16 to 45 g/L", "sweet: from 45 g/L"],
            Words("sweetness-word", "sugar=50 titratable-acidity=6", "scale"));
        Assert.Equal("sweet: from 50 g/L", Words("sweetness-word", "style=sparkling sugar=60", "scale")[^1]);
        Assert.DoesNotContain(SheetRun.Answer("sweetness-word", "sugar=50 titratable-acidity=6").Results, result => result.Output.Key == "sugar-to");
        Assert.Equal("brut nature", Words("sweetness-word", "style=sparkling sugar=1 sugar-added=no", "sweetness")[0]);
        Assert.Equal("extra brut", Words("sweetness-word", "style=sparkling sugar=1", "sweetness")[0]);
        Assert.Equal("titratable-acidity is missing; it is needed because the words of still wine depend on it, as a number from 0 to 20 g/L.", SheetRun.Fault("sweetness-word", "sugar=5").Sentence);
    }

    // What was measured stands for everything before it; the pour thins both.
    [Fact]
    public void MeasuredTotal_CountsInsteadOfWhatWasAddedBefore() => Assert.Equal(
        96, Number("sulfite-total", "measured-total=90 additions=30 volume=20 poured=5", "total-sulfite"), 1e-9);

    private static double Number(string sheet, string given, string key) => SheetRun.Number(sheet, given, key).Value;

    private static IReadOnlyList<string> Words(string sheet, string given, string key) =>
        Assert.Single(SheetRun.Answer(sheet, given).Results.OfType<TextResult>(), result => result.Output.Key == key).Lines;
}
