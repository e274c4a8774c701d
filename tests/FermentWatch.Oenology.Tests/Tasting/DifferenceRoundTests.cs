using System.Text.Json;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class DifferenceRoundTests
{
    private static readonly string[] Six = ["A", "B", "C", "D", "E", "F"];

    [Fact]
    public void Triangle_ServesTwoAlikeAndTheOddGlassIsRight()
    {
        var round = DifferenceRound.Plan(DifferenceMethod.Triangle, Six, 4);
        Assert.All(round.Servings, serving =>
        {
            Assert.Equal(3, serving.Codes.Distinct().Count());
            var isFirst = serving.Codes.Select(round.FirstCodes.Contains).ToList();
            Assert.Equal(1, isFirst.Count(first => first == round.FirstCodes.Contains(serving.RightCode)));
        });

        // The six orders once each: each place holds the odd glass twice, and three panels have two of the first sample.
        Assert.All(Enumerable.Range(0, 3), place => Assert.Equal(2, round.Servings.Count(serving => serving.Codes.IndexOf(serving.RightCode) == place)));
        Assert.Equal(3, round.Servings.Count(serving => round.FirstCodes.Contains(serving.RightCode)));
    }

    [Theory]
    [InlineData(DifferenceMethod.DuoTrio, true)]
    [InlineData(DifferenceMethod.PairedDirectional, false)]
    [InlineData(DifferenceMethod.PairedTwoSided, false)]
    public void TwoGlasses_StandFirstAsOftenAsLast(DifferenceMethod method, bool firstIsRight)
    {
        var round = DifferenceRound.Plan(method, Six, 4);
        Assert.All(round.Servings, serving => Assert.Equal(firstIsRight, round.FirstCodes.Contains(serving.RightCode)));
        Assert.Equal(3, round.Servings.Count(serving => serving.Codes[0] == serving.RightCode));
    }

    [Fact]
    public void SpikedGlassOfThree_IsAlwaysTheSecondSample()
    {
        var round = DifferenceRound.Plan(DifferenceMethod.OneOfThree, Six, 4);
        Assert.All(round.Servings, serving => Assert.Contains(serving.RightCode, round.SecondCodes));
        Assert.All(Enumerable.Range(0, 3), place => Assert.Equal(2, round.Servings.Count(serving => serving.Codes.IndexOf(serving.RightCode) == place)));
    }

    [Fact]
    public void Answers_AreCountedOfThoseWhoAnswered()
    {
        var round = DifferenceRound.Plan(DifferenceMethod.Triangle, Six, 4);
        var result = round.Judge(round.Servings.Take(5).ToDictionary(serving => serving.Taster, serving => serving.Taster == "A" ? serving.Codes.First(code => code != serving.RightCode) : serving.RightCode));
        Assert.Equal((5, 4), (result.Tasters, result.Right));
        Assert.Equal(11.0 / 243, result.ProbabilityByChance, 1e-12);
        Assert.Throws<ArgumentException>(() => round.Judge(new Dictionary<string, string>()));
        Assert.Contains("was not served to A", Assert.Throws<ArgumentException>(() => round.Judge(new Dictionary<string, string> { ["A"] = "000" })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void SmallPanel_SaysThatItCannotProveAnything()
    {
        Assert.False(DifferenceRound.Plan(DifferenceMethod.PairedTwoSided, ["A", "B", "C"], 1).CanReachLevel);
        Assert.True(DifferenceRound.Plan(DifferenceMethod.Triangle, ["A", "B", "C"], 1).CanReachLevel);
        Assert.Throws<ArgumentException>(() => DifferenceRound.Plan(DifferenceMethod.Triangle, ["A", "A"], 1));
    }

    [Fact]
    public void StoredRound_IsTheSameWhenReadBack()
    {
        var json = JsonSerializer.Serialize(DifferenceRound.Plan(DifferenceMethod.DuoTrio, Six, 9));
        Assert.Equal(json, JsonSerializer.Serialize(JsonSerializer.Deserialize<DifferenceRound>(json)));
        var series = JsonSerializer.Serialize(ForcedChoiceSeries.Plan(1, 2, 4, "g/L", 3));
        Assert.Equal(series, JsonSerializer.Serialize(JsonSerializer.Deserialize<ForcedChoiceSeries>(series)));
        var quiz = JsonSerializer.Serialize(PalateQuiz.Draw(["sucrose", PalateQuiz.Nothing], ["sucrose", PalateQuiz.Nothing], 3));
        Assert.Equal(quiz, JsonSerializer.Serialize(JsonSerializer.Deserialize<PalateQuiz>(quiz)));
    }
}
