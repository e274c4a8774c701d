using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class PanelTests
{
    [Fact]
    public void TwinsJudgedAlike_AreConsistent()
    {
        var twins = TwinConsistency.Of(
            [
                new("Ada", "274", Sweet: JustAboutRight.Right, Acid: JustAboutRight.TooLittle, Liking: 7),
                new("Ada", "861", Sweet: JustAboutRight.Right, Acid: JustAboutRight.Right, Liking: 6),
                new("Ada", "539", Liking: 3),
                new("Ben", "274", Sweet: JustAboutRight.TooLittle, Acid: JustAboutRight.TooLittle, Liking: 2),
                new("Ben", "861", Sweet: JustAboutRight.TooMuch, Acid: JustAboutRight.TooMuch, Liking: 8),
                new("Cleo", "274", Liking: 5),
            ],
            "274",
            "861");
        Assert.Equal(["Ada", "Ben"], twins.Select(twin => twin.Taster));
        Assert.Equal(new TwinConsistency("Ada", 1, 1, 2, 4), twins[0]);
        Assert.True(twins[0].IsConsistent);
        Assert.Equal(new TwinConsistency("Ben", 6, 0, 2, 6), twins[1]);
        Assert.False(twins[1].IsConsistent);
    }

    [Fact]
    public void OnePointBetweenTwins_IsNotConsistentForWhoUsesOnlyTwoPoints() => Assert.False(new TwinConsistency("Ada", 1, 0, 0, 2).IsConsistent);

    [Fact]
    public void NothingToCompare_SaysNothing() => Assert.Null(new TwinConsistency("Ada", null, 0, 0, null).IsConsistent);

    [Fact]
    public void Quiz_CountsRightGlassesAndNamesConfusions()
    {
        var quiz = PalateQuiz.Draw(["tartaric-acid", "sucrose", PalateQuiz.Nothing, "caffeine"], ["tartaric-acid", "sucrose", "caffeine", PalateQuiz.Nothing], 3);
        Assert.Equal(4, quiz.Glasses.Select(glass => glass.Code).Distinct().Count());
        var bitter = quiz.Glasses.Single(glass => glass.Content == "caffeine");
        var result = quiz.Mark("Ada", quiz.Glasses.ToDictionary(glass => glass.Code, glass => glass == bitter ? "tartaric-acid" : glass.Content));
        Assert.Equal(3, result.Right);
        Assert.Equal(new QuizConfusion("caffeine", "tartaric-acid"), Assert.Single(result.Confusions));

        // 3 or 4 of 4 with one chance in four each: (4·3 + 1)/256.
        Assert.Equal(13.0 / 256, result.ProbabilityByChance, 1e-12);
    }

    [Fact]
    public void UnansweredGlass_IsNotRight()
    {
        var quiz = PalateQuiz.Draw(["sucrose", PalateQuiz.Nothing], ["sucrose", PalateQuiz.Nothing], 3);
        var result = quiz.Mark("Ada", new Dictionary<string, string>());
        Assert.Equal(0, result.Right);
        Assert.Empty(result.Confusions);
        Assert.Equal(1, result.ProbabilityByChance);
    }

    [Fact]
    public void ContentThatIsNoChoice_IsRefused() => Assert.Throws<ArgumentException>(() => PalateQuiz.Draw(["honey", "sucrose"], ["sucrose", "caffeine"], 1));

    // Rows of the table with a number to check: the index and the conversion from moles.
    [Fact]
    public void AcidTasteIndex_Agrees() => ReferenceCheck.AllAgree(
        "sensory-thresholds.csv",
        row => row.Quantity == "acid taste index of wine",
        rows: 2,
        independentRows: 2,
        row => AcidTaste.Index(row.Input("ta_g_per_L"), row.Input("ph")));
}
