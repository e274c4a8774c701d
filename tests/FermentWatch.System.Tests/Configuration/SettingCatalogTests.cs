using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Configuration;

public sealed class SettingCatalogTests
{
    [Fact]
    public void EveryExample_IsAValue()
    {
        foreach (var setting in SettingCatalog.All)
        {
            Assert.True(setting.ProblemOf(setting.Example) is null, $"{setting.Key}: its example '{setting.Example}' is refused.");
            Assert.True(setting.Meaning.Length > 10 && setting.Allowed.Length > 5, $"{setting.Key} is not explained.");
        }
    }

    [Fact]
    public void EveryKey_IsThereOnce() =>
        Assert.Equal(SettingCatalog.All.Count, SettingCatalog.All.Select(setting => setting.Key.ToUpperInvariant()).Distinct().Count());

    [Fact]
    public void EverySettingOfTheCatalogueClasses_IsInTheList()
    {
        var declared = typeof(SettingCatalog).Assembly.GetTypes()
            .Where(type => type.Namespace == typeof(SettingCatalog).Namespace && type.IsAbstract && type.IsSealed)
            .SelectMany(type => type.GetProperties())
            .Where(property => property.PropertyType.IsSubclassOf(typeof(Setting)))
            .Select(property => ((Setting)property.GetValue(null)!).Key);
        Assert.Equal(declared.Order(StringComparer.Ordinal), SettingCatalog.All.Select(setting => setting.Key).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void SettingsPage_IsTheCatalogue()
    {
        var page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "settings.md"));
        Assert.True(
            page == SettingsTable.ToMarkdown(),
            "deploy/settings.md differs from the catalogue: write it anew with 'fermentwatch settings --markdown > deploy/settings.md'.");
    }

    [Fact]
    public void PlainText_NamesEverySetting()
    {
        var text = SettingsTable.ToPlainText();
        Assert.All(SettingCatalog.All, setting => Assert.Contains($"\n{setting.Key}", text, StringComparison.Ordinal));
    }
}
