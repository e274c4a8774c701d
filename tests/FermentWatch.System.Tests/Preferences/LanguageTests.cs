using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>Languages: whole files of words, the same values in each, and no word on a page that was not given to the translators.</summary>
public sealed partial class LanguageTests
{
    private static readonly string Folder = Path.Combine(Repository(), "src", "FermentWatch.Service", "Texts");

    public static TheoryData<string, string> Translations()
    {
        var data = new TheoryData<string, string>();
        foreach (var language in Language.All.Where(language => language != Language.English))
        {
            foreach (var file in Directory.EnumerateFiles(Folder, "*.resx").Select(path => Path.GetFileNameWithoutExtension(path)!).Where(name => !name.Contains('.', StringComparison.Ordinal)))
            {
                data.Add(language.Code, file);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Translations))]
    public void FileOfALanguage_HasEveryTextWithTheSameValues(string language, string file)
    {
        var (neutral, translated) = (Read(file + ".resx"), Read($"{file}.{language}.resx"));
        Assert.Equal([], neutral.Keys.Except(translated.Keys));
        Assert.Equal([], translated.Keys.Except(neutral.Keys));
        foreach (var (key, text) in neutral)
        {
            Assert.True(Values(text).SetEquals(Values(translated[key])), $"{file}, {key}: '{translated[key]}' has other values than '{text}'.");
            Assert.True(Tags(text).SequenceEqual(Tags(translated[key])), $"{file}, {key}: '{translated[key]}' has other tags than '{text}'.");
            Assert.False(string.IsNullOrWhiteSpace(translated[key]) && !string.IsNullOrWhiteSpace(text), $"{file}, {key} is empty.");
        }
    }

    /// <summary>Figures with a fraction stand in a text as a value, so that they take the reader's mark. What names a form of writing, an address or a scale's step (written by <c>FixedFigures</c>) is exempt.</summary>
    [Fact]
    public void FigureWithAFraction_IsAValueOfItsText()
    {
        string[] exempt = ["closed", "host-hint", "host-missing", "import-decimal", "import-dates-2", "refused-quote"];
        var found = Directory.EnumerateFiles(Folder, "*.resx").Select(path => Path.GetFileName(path)!)
            .Where(file => !file.StartsWith("Worksheets.", StringComparison.Ordinal))
            .SelectMany(file => Read(file).Where(text => Fraction().IsMatch(text.Value) && !exempt.Contains(text.Key) && !text.Key.Contains("-scale-", StringComparison.Ordinal)).Select(text => $"{file}: {text.Key}"));
        Assert.Equal([], found);
    }

    [Fact]
    public void WordsOfTheStyle_AreInEachLanguage()
    {
        var style = File.ReadAllText(Path.Combine(Repository(), "src", "FermentWatch.Service", "Dashboard", "Assets", "look.css"));
        Assert.All(Language.All.Where(language => language != Language.English), language =>
        {
            Assert.Contains($":lang({language.Code}) summary::after", style, StringComparison.Ordinal);
            Assert.Contains($":lang({language.Code}) details[open] > summary::after", style, StringComparison.Ordinal);
        });
        var words = Directory.EnumerateFiles(Path.Combine(Repository(), "src", "FermentWatch.Service", "Dashboard", "Assets"), "*.css")
            .SelectMany(path => Content().Matches(File.ReadAllText(path)).Select(match => match.Value));
        Assert.Equal(2 * Language.All.Count, words.Count());
    }

    [Theory]
    [InlineData("en", "Tuesday, October\u00a06", "Oct\u00a06, 4:10\u00a0pm")]
    [InlineData("de", "Dienstag, 6.\u00a0Oktober", "6.\u00a0Okt., 16:10")]
    [InlineData("fr", "mardi 6\u00a0octobre", "6\u00a0oct., 16:10")]
    public void DayAndTime_AreWrittenAsTheLanguageDoes(string code, string day, string moment)
    {
        var reader = new FermentWatch.Service.Dashboard.Words.Reader(TimeZoneInfo.Utc, null, Language.Find(code));
        var time = new DateTimeOffset(2026, 10, 6, 16, 10, 0, TimeSpan.Zero);
        Assert.Equal((day, moment), (reader.LongDay(time), reader.Moment(time)));
    }

    [Fact]
    public async Task ChosenLanguage_IsThatOfThePagesAndNotOfThoseThatPrograms()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        await ChooseAsync(site.Client, "de");
        var html = await site.Client.GetStringAsync("", TestContext.Current.CancellationToken);
        Assert.Contains("<html lang=\"de\">", html, StringComparison.Ordinal);
        Assert.Contains("Dienstag, 6.\u00a0Oktober", WebUtility.HtmlDecode(html), StringComparison.Ordinal);
        await ChooseAsync(site.Client, "en");
        Assert.Contains("Tuesday, October\u00a06", WebUtility.HtmlDecode(await site.Client.GetStringAsync("", TestContext.Current.CancellationToken)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("/ferment")]
    public async Task PageAboutWhatProgramsAsk_SpeaksTheChosenLanguage(string pathBase)
    {
        await using var service = await RunningService.StartAsync(file => file["Page"]!["PathBase"] = pathBase);
        using var client = new HttpClient { BaseAddress = new Uri(service.Page, pathBase.Length == 0 ? "/" : pathBase + "/") };
        await ChooseAsync(client, "de");
        Assert.Contains("<html lang=\"de\">", await client.GetStringAsync("api", TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    internal static async Task ChooseAsync(HttpClient client, string language)
    {
        var html = await client.GetStringAsync("preferences/language", TestContext.Current.CancellationToken);
        using var content = new FormUrlEncodedContent([new("token", Token().Match(html).Groups[1].Value), new("language", language)]);
        using var answer = await client.PostAsync("preferences/language", content, TestContext.Current.CancellationToken);
        Assert.True(answer.StatusCode is HttpStatusCode.Redirect or HttpStatusCode.SeeOther or HttpStatusCode.OK, $"{answer.StatusCode}");
    }

    private static Dictionary<string, string> Read(string file) => XDocument.Load(Path.Combine(Folder, file)).Root!
        .Elements("data").ToDictionary(data => data.Attribute("name")!.Value, data => data.Element("value")!.Value, StringComparer.Ordinal);

    private static HashSet<string> Values(string text) => [.. Value().Matches(text).Select(match => match.Value)];

    private static IEnumerable<string> Tags(string text) => Tag().Matches(text).Select(match => match.Value).Order(StringComparer.Ordinal);

    internal static string Repository()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "FermentWatch.sln")))
        {
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("There is no FermentWatch.sln above the tests.");
        }

        return folder;
    }

    [GeneratedRegex(@"\{\d+")]
    private static partial Regex Value();

    [GeneratedRegex("content: \"\\p{L}{3}")]
    private static partial Regex Content();

    [GeneratedRegex(@"\d[.,]\d")]
    private static partial Regex Fraction();

    [GeneratedRegex("</?[a-z][^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
