using FermentWatch.Monitoring.Alerting.Services;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class ServiceScenarioTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Alerting", "ServiceScenarios");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)).Order()];

    [Theory]
    [MemberData(nameof(Files))]
    public void EachStory_SaysWhatItMustAndNothingElse(string file)
    {
        var scenario = Read(file);
        var sent = scenario.Live(restartsBetweenPasses: false).Where(draft => draft.Channel == "mail").Select(ServiceScenario.Notice);
        Assert.Equal(string.Join('\n', scenario.Expected), string.Join('\n', sent));
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void RestartBetweenAllPasses_SaysTheSameUnderTheSameKeys(string file)
    {
        var scenario = Read(file);
        var through = scenario.Live(restartsBetweenPasses: false);
        Assert.Equal(through, scenario.Live(restartsBetweenPasses: true));
        Assert.Equal(through.Count, through.DistinctBy(draft => draft.Key).Count());
    }

    [Fact]
    public void FailingChannel_IsNotToldThroughItself()
    {
        var drafts = Read("channel-failing-raised").Live(restartsBetweenPasses: false);
        Assert.NotEmpty(drafts);
        Assert.DoesNotContain(drafts, draft => draft.Channel == "relay");
    }

    [Fact]
    public void EachRule_HasRaisingAndSilentStories()
    {
        var files = Directory.GetFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)!).ToList();
        foreach (var rule in ServiceRuleCatalog.All)
        {
            var stories = files.Where(file => file.StartsWith(rule.Id + "-", StringComparison.Ordinal)).Select(Read).ToList();
            Assert.Contains(stories, story => story.Expected.Count > 0);
            Assert.Contains(stories, story => story.Expected.Count == 0);
        }
    }

    private static ServiceScenario Read(string file) => ServiceScenario.Parse(File.ReadAllText(Path.Combine(Folder, file + ".txt")));
}
