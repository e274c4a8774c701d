using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class SimulatedCleaningTests(ITestOutputHelper output)
{
    [Fact]
    public void SixtyDrawnFerments_KeepWhatIsTrueAndLoseWhatIsWild()
    {
        const int FirstSeed = 5000;
        var score = new CleaningScore();
        for (var seed = FirstSeed; seed < FirstSeed + 60; seed++)
        {
            score.Add(seed);
        }

        output.WriteLine(score.ToString());
        score.Notes.ForEach(output.WriteLine);
        Assert.True(score.Precision >= 0.7, score.ToString());
        Assert.True(score.Recall >= 0.95, score.ToString());
        Assert.True(score.TruthfulSetAside <= 0.002 * score.Truthful, score.ToString());
        Assert.True(score.FalseSteps + score.FalseSpells + score.FalseSugars <= 3, score.ToString());
        Assert.True(score.SugarsFound >= 0.8 * score.Sugars, score.ToString());
        Assert.True(score.FoamsFound >= 0.5 * score.Foams, score.ToString());
    }
}
