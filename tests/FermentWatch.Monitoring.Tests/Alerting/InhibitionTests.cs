using FermentWatch.Monitoring.Alerting.Inhibitions;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>Each line of the catalogue of inhibitions has a story, inhibited-ID.txt, which the others of the catalogue do not tell alike.</summary>
public sealed class InhibitionTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Alerting", "Scenarios");

    public static TheoryData<string> Lines => [.. InhibitionCatalog.All.Select(line => line.Id)];

    [Theory]
    [MemberData(nameof(Lines))]
    public void StoryOfEachLine_HoldsWithItAndNotWithoutIt(string line)
    {
        var scenario = AlertScenario.Parse(File.ReadAllText(Path.Combine(Folder, $"inhibited-{line}.txt")));
        var with = new ScenarioRun(scenario, restartsBetweenPasses: false).Live().Sent;
        var without = new ScenarioRun(scenario, restartsBetweenPasses: false, withoutInhibition: line).Live().Sent;

        Assert.Equal(scenario.Expected, with);
        Assert.NotEqual(scenario.Expected, without);
    }

    [Theory]
    [MemberData(nameof(Lines))]
    public void EachLine_NamesRulesThatExist(string line)
    {
        var silenced = InhibitionCatalog.All.Single(one => one.Id == line).Silences;

        Assert.NotEmpty(silenced);
        Assert.All(silenced, rule => Assert.Equal(rule, Monitoring.Alerting.AlertRuleCatalog.Named(rule).Id));
    }

    [Fact]
    public void StuckInTheCold_IsToldOnceWithTheTemperatureAndNotAlone()
    {
        var scenario = AlertScenario.Parse(File.ReadAllText(Path.Combine(Folder, "inhibited-stuck-yields-to-temperature.txt")));
        var drafts = new ScenarioRun(scenario, restartsBetweenPasses: true).Live().Drafts;

        var merged = Assert.Single(drafts, draft => draft.Title.Code == "title-stuck-by-temperature");
        Assert.Equal("stuck-in-the-cold", merged.Body[0].Code);
        Assert.DoesNotContain(drafts, draft => draft.Title.Code == "title-stuck" && draft.NextAttemptAt < merged.NextAttemptAt);
    }
}
