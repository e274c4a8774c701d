using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Words;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Every code and key that the source uses has words: found by reading the source itself.</summary>
public sealed partial class ReasonTextsTests
{
    private static readonly Reader Utc = new(TimeZoneInfo.Utc);

    // Stored properties and ids of rules of the same shape, which are no reasons.
    private static readonly string[] NoReasons = ["broker-client-id", "broker-needs-device", "broker-lost", "fields"];

    [Fact]
    public void EveryReasonCodeInTheSource_HasWords()
    {
        // The pages themselves use keys of their own texts, not reasons.
        var codes = Sources("*.cs", except: "Dashboard").SelectMany(text => Codes().Matches(text).Select(match => match.Groups[1].Value)).Except(NoReasons).Distinct().ToList();
        var notices = Keys("Notices.resx");
        Assert.True(codes.Count > 60, $"only {codes.Count} codes were found");
        Assert.DoesNotContain(codes, code => !ReasonWords.Knows(code) && !notices.Contains(code));
    }

    [Fact]
    public void EveryCodeOfDecodingAndOfViews_HasWordsOnThePage()
    {
        var codes = DecodeReasons.All.Concat(typeof(Monitoring.Batches.ReasonCodes).GetFields().Select(field => (string)field.GetRawConstantValue()!)).ToList();
        Assert.True(codes.Count > 35, $"only {codes.Count} codes");
        Assert.DoesNotContain(codes, code => !ReasonWords.Knows(code));
    }

    [Fact]
    public void EveryPageKeyInTheSource_HasAText()
    {
        var keys = Keys("Page.resx");
        var used = Sources("*.cs").Concat(Sources("*.razor")).SelectMany(text => PageKeys().Matches(text).Select(match => match.Groups[2].Value)).Distinct().ToList();
        Assert.True(used.Count > 100, $"only {used.Count} keys were found");
        Assert.DoesNotContain(used, key => !keys.Contains(key) && !keys.Any(known => known.StartsWith(key, StringComparison.Ordinal)));
    }

    [Fact]
    public void EveryTextOfAReason_FormatsWithFewerValuesThanItAsksFor()
    {
        foreach (var code in Keys("Reasons.resx"))
        {
            Assert.NotEmpty(ReasonWords.Of(Reason.Of(code), Utc));
        }
    }

    [Fact]
    public void CodeOfALaterVersion_IsShownAsItsOwnWordsWithItsValues()
    {
        Assert.Equal("some new thing (14 h, 3)", ReasonWords.Of(Reason.Of("some-new-thing", new ReasonValue.Length(TimeSpan.FromHours(14)), new ReasonValue.Count(3)), Utc).Replace('\u00a0', ' '));
    }

    [Fact]
    public void JournalEntries_CarryTheMakersWords()
    {
        Assert.Equal("nutrient added: 6 g", ReasonWords.Of(Reason.Of("journal-nutrient-added", new ReasonValue.Name("6 g")), Utc));
        Assert.Equal("racked", ReasonWords.Of(Reason.Of("journal-racked", new ReasonValue.Name("")), Utc));
        Assert.Equal("smells of pears", ReasonWords.Of(Reason.Of("journal-note", new ReasonValue.Name("smells of pears")), Utc));
        Assert.Equal("hand reading 1.072", ReasonWords.Of(Reason.Of("journal-measured-by-hand", new ReasonValue.Name(""), new ReasonValue.Gravity(1.072)), Utc));
    }

    [Fact]
    public void SentenceThatBeginsWithAGivenName_KeepsItsSmallLetter()
    {
        Assert.Equal("float-1 is heard again.", ReasonWords.Sentence(Reason.Of("sensor-heard-again", new ReasonValue.Name("float-1")), Utc));
        Assert.Equal("There is no gravity reading to judge by yet.", ReasonWords.Sentence(Reason.Of("phase-unknown-no-readings"), Utc));
    }

    [Theory]
    [InlineData(0.9, "9 in 10")]
    [InlineData(0.95, "19 in 20")]
    [InlineData(0.5, "1 in 2")]
    [InlineData(0.99, "more than 39 in 40")]
    [InlineData(0.01, "less than 1 in 40")]
    public void Odds_AreSaidAsChances(double probability, string words)
    {
        Assert.Equal(words, Figures.Odds(probability).Replace('\u00a0', ' '));
    }

    [Fact]
    public void ExampleOnTheConnectPage_IsReadWithoutErrorByTheServicesOwnReader()
    {
        var directory = Directory.CreateTempSubdirectory("fermentwatch-sample-");
        try
        {
            File.WriteAllText(Path.Combine(directory.FullName, SettingsLoader.FileName), ConnectSamples.Configuration);
            var result = SettingsLoader.Load(directory.FullName, new Dictionary<string, string?>(), new Dictionary<string, string?>());
            Assert.Empty(result.Errors);
            Assert.Equal("Plum wine", result.Settings!.Batches[0].Name);
        }
        finally
        {
            directory.Delete(recursive: true);
        }
    }

    private static HashSet<string> Keys(string file) =>
        [.. XDocument.Load(Path.Combine(Source(), "FermentWatch.Service", "Texts", file)).Root!.Elements("data").Select(data => data.Attribute("name")!.Value)];

    private static IEnumerable<string> Sources(string pattern, string except = "obj")
    {
        var inside = Path.DirectorySeparatorChar;
        return Directory.EnumerateFiles(Source(), pattern, SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{inside}obj{inside}", StringComparison.Ordinal) && !file.Contains($"{inside}bin{inside}", StringComparison.Ordinal)
                && !file.Contains($"{inside}{except}{inside}", StringComparison.Ordinal))
            .Select(File.ReadAllText);
    }

    private static string Source()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "FermentWatch.sln")))
            {
                return Path.Combine(folder.FullName, "src");
            }
        }

        throw new DirectoryNotFoundException(string.Create(CultureInfo.InvariantCulture, $"No FermentWatch.sln above {AppContext.BaseDirectory}."));
    }

    [GeneratedRegex("\"((?=[a-z]+-[a-z])(?:not-yet|phase|set-aside|event|journal|broker|payload|field|number|value|time-(?:unreadable|without|out|fits)|topic-not|sensor-(?:silent|never|heard|detached|name)|temperature-(?:above|below|back|withdrawn)|same-series)(?:-[a-z]+)*)\"")]
    private static partial Regex Codes();

    [GeneratedRegex("PageText\\.(Of|Markup|Counted)\\(\\s*\"([a-z-]+)\"")]
    private static partial Regex PageKeys();
}
