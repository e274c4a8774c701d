using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>The kit and the quiz on the page.</summary>
public sealed class PalateTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task KitOfEveryTaste_HasItsGlassesAndItsCaution()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = new Visitor(service.Page);
        Assert.Contains("tell first what you measure with", await maker.Client.GetStringAsync("trials/palate", Stop), StringComparison.Ordinal);
        await new BenchInstruments([new WeighingScale("pocket scale", 200, 0.01)], new DosingSyringe(10, 0.2), 1).WriteAsync(service.Store, Stop);
        foreach (var stimulus in TasteStimulus.All)
        {
            var page = await maker.Client.GetStringAsync("trials/palate?what=" + stimulus.Code, Stop);
            Assert.Contains("Thresholds differ", page, StringComparison.Ordinal);
            Assert.Equal(stimulus.IsSmellOnly, page.Contains("Smell only, never drink.", StringComparison.Ordinal));
            Assert.Equal(4, PalateStory.Kit(stimulus, new DosingSyringe(10, 0.2))!.Glasses.Length);
        }
    }

    [Fact]
    public async Task Quiz_IsTheSameForMixerAndTasterAndCountsWhatIsRight()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = new Visitor(service.Page);
        var quiz = PalateStory.Quiz(417);
        var key = await maker.Client.GetStringAsync("trials/palate/417?key=yes", Stop);
        var asked = await maker.Client.GetStringAsync("trials/palate/417", Stop);
        Assert.Equal(5, quiz.Glasses.Length);
        Assert.All(quiz.Glasses, glass => Assert.Contains(glass.Code, key, StringComparison.Ordinal));
        Assert.All(quiz.Glasses, glass => Assert.Contains($"glass-{glass.Code}", asked, StringComparison.Ordinal));
        Assert.DoesNotContain("g/L", asked, StringComparison.Ordinal);

        // Three right, one wrong, one open. P(X >= 3 | 5, 1/5) = 10·0.2³·0.8² + 5·0.2⁴·0.8 + 0.2⁵ = 0.05792: one time in 17.
        var answers = string.Join('&', quiz.Glasses.Take(3).Select(glass => $"glass-{glass.Code}={glass.Content}"))
            + $"&glass-{quiz.Glasses[3].Code}={(quiz.Glasses[3].Content == PalateQuiz.Nothing ? "sucrose" : PalateQuiz.Nothing)}";
        var marked = await maker.Client.GetStringAsync("trials/palate/417?sent=yes&" + answers, Stop);
        Assert.Contains("3 of 5 right.", marked, StringComparison.Ordinal);
        Assert.Contains("1 time in 17", marked, StringComparison.Ordinal);
        Assert.Contains("was named", marked, StringComparison.Ordinal);
    }
}
