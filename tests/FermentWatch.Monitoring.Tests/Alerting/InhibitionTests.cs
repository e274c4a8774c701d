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

    [Theory]
    [InlineData("inhibited-stuck-yields-to-temperature", "stuck-in-the-cold")]
    [InlineData("stuck-in-deadly-heat", "stuck-in-deadly-heat")]
    [InlineData("stuck-in-frost", "stuck-in-frost")]
    [InlineData("temperature-drop-and-stuck", "stuck-in-the-cold")]
    public void StuckByTheTemperature_IsToldInItsNoticesFromThenOnAndNotAlone(string story, string says)
    {
        var scenario = AlertScenario.Parse(File.ReadAllText(Path.Combine(Folder, story + ".txt")));
        var drafts = new ScenarioRun(scenario, restartsBetweenPasses: true).Live().Drafts;

        var first = drafts.FindIndex(draft => draft.Title.Code == "title-stuck-by-temperature");
        Assert.True(first > 0, "No notice tells both.");
        Assert.DoesNotContain(drafts[..first], draft => draft.Title.Code == "title-stuck" || draft.Body[0].Code == says);
        // A newer notice of the temperature replaces the older one, so that it says the same.
        Assert.All(drafts[first..].TakeWhile(draft => !draft.Silent && draft.Title.Code != "title-stuck"), draft => Assert.Equal(says, draft.Body[0].Code));
    }
}
