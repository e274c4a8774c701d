using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class AlertScenarioTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Alerting", "Scenarios");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)).Order()];

    [Theory]
    [MemberData(nameof(Files))]
    public void EachStory_SaysWhatItMustAndNothingElse(string file)
    {
        var scenario = Read(file);

        var sent = Lines(new ScenarioRun(scenario, restartsBetweenPasses: false).Live().Sent);
        Assert.True(Lines(scenario.Expected) == sent, $"expected:\n{Lines(scenario.Expected)}\nsent:\n{sent}");
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void EachStoryThroughTheWholeView_SaysTheSame(string file)
    {
        var scenario = Read(file);

        Assert.Equal(
            Lines(scenario.Expected),
            Lines(new ScenarioRun(scenario, restartsBetweenPasses: false, throughTheWholeView: true).Live().Sent));
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void RestartBetweenAllPasses_SaysTheSame(string file)
    {
        var scenario = Read(file);
        var through = new ScenarioRun(scenario, restartsBetweenPasses: false).Live();
        var restarted = new ScenarioRun(scenario, restartsBetweenPasses: true).Live();

        Assert.Equal(Lines(through.Sent), Lines(restarted.Sent));
        Assert.Equal(through.Drafts, restarted.Drafts);
        Assert.Equal(through.Set, restarted.Set);
    }

    [Fact]
    public void EachRule_HasRaisingAndSilentStories()
    {
        var files = Directory.GetFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)!).ToList();
        foreach (var rule in Monitoring.Alerting.AlertRuleCatalog.All)
        {
            var stories = files.Where(file => file.StartsWith(rule.Id + "-", StringComparison.Ordinal)).Select(Read).ToList();

            Assert.Contains(stories, story => story.Expected.Count > 0);
            Assert.Contains(stories, story => story.Expected.Count == 0);
        }
    }

    private static AlertScenario Read(string file) => AlertScenario.Parse(File.ReadAllText(Path.Combine(Folder, file + ".txt")));

    private static string Lines(IEnumerable<ExpectedNotice> notices) =>
        string.Join('\n', notices.Select(notice => $"{(int)notice.At.TotalHours}h{notice.At.Minutes:00}m{(notice.At.Seconds > 0 ? $"{notice.At.Seconds}s" : "")} {notice.Title}"));
}
