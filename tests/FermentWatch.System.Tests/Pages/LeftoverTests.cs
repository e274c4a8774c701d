using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Preferences;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>What a program lets slip when a text or a value is missing: places that were not filled, names of texts, numbers that are none. On every page of a full cellar, for everybody who looks, and in every notice.</summary>
public sealed partial class LeftoverTests(ITestOutputHelper output)
{
    private static readonly HashSet<string> Keys = [.. Directory.EnumerateFiles(Path.Combine(LanguageTests.Repository(), "src", "FermentWatch.Service", "Texts"), "*.resx")
        .Where(path => !Path.GetFileName(path).StartsWith("Worksheets.", StringComparison.Ordinal))
        .SelectMany(path => XDocument.Load(path).Root!.Elements("data").Select(data => data.Attribute("name")!.Value))
        .Where(key => key.Contains('-', StringComparison.Ordinal))];

    public static TheoryData<string> Languages => [.. Language.All.Select(language => language.Code)];

    [Fact]
    public async Task EveryPageInEveryLanguage_HasNothingLeftOver()
    {
        await using var stage = await CellarStage.StartAsync();
        var found = new List<string>();
        foreach (var language in Language.All)
        {
            await stage.SpeakAsync(language.Code);
            foreach (var visit in stage.Visits)
            {
                using var answer = await stage.GetAsync(visit);
                var html = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
                Assert.Contains($"<html lang=\"{language.Code}\"", html, StringComparison.Ordinal);
                found.AddRange(In(Shown(html)).Select(slip => $"{language.Code} {visit.Address} for {visit.By}: {slip}"));
            }
        }

        output.WriteLine(string.Join('\n', found));
        Assert.Empty(found);
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void EveryNoticeAndItsLetter_HasNothingLeftOver(string code)
    {
        var now = ReceivedAt.From(new DateTimeOffset(2026, 10, 6, 6, 0, 0, TimeSpan.Zero));
        var reader = new Reader(TimeZoneInfo.Utc, language: Language.Find(code));
        var settings = new MailSettings("127.0.0.1", 25, MailSecurity.None, "from@example.org", ValueList.Of<string>("to@example.org"));
        var examples = NoticeExamples.All("Quince mead", now);
        Assert.True(examples.Count > 30, $"{examples.Count} examples");
        foreach (var example in examples)
        {
            var message = NoticeText.Write(new OutboxDraft("k", "mail", "k", new BatchId("example"), example.Severity, example.Silent, example.Words.Title, example.Words.Body, now), reader, now, link: null);
            var letter = MailLetter.Write(message, settings, now.ToDateTimeOffset());
            Assert.Contains(message.Text, letter.TextBody, StringComparison.Ordinal);
            Assert.Equal([], In(letter.Subject + " " + letter.TextBody + " " + Shown(letter.HtmlBody!)).Select(slip => $"{example.Rule}: {slip}"));
        }
    }

    [Theory]
    [InlineData("<p>Weigh {0} g</p>", "{0}")]
    [InlineData("<p>{1:0.0} g</p>", "{1:")]
    [InlineData("<p>[missing day]</p>", "[missing")]
    [InlineData("<p>Page.Title</p>", "Page.Title")]
    [InlineData("<p>see from-configuration</p>", "from-configuration")]
    [InlineData("<p>NaN g</p>", "NaN")]
    [InlineData("<p>up to ∞ days</p>", "∞")]
    [InlineData("<img alt=\"null\">", "null")]
    [InlineData("<p>System.String[]</p>", "System.String")]
    public void Slip_IsSeen(string html, string slip) => Assert.Contains(In(Shown(html)), one => one.Contains(slip, StringComparison.Ordinal));

    /// <summary>What a reader sees or hears of a page; what devices sent, samples of configuration and addresses stay as they are.</summary>
    private static string Shown(string html)
    {
        var rest = Unseen().Replace(html, " ");
        return WebUtility.HtmlDecode(Tag().Replace(rest, " ") + " " + string.Join(" \n ", Spoken().Matches(rest).Select(match => match.Groups[1].Value)));
    }

    private static IEnumerable<string> In(string text) => Slips().Matches(text)
        .Concat(Kebabs().Matches(text).Where(match => Keys.Contains(match.Value)))
        .Select(match => text[Math.Max(0, match.Index - 30)..Math.Min(text.Length, match.Index + match.Length + 20)].ReplaceLineEndings(" "));

    [GeneratedRegex("<style.*?</style>|<script.*?</script>|<p class=\"raw\">.*?</p>|<pre.*?</pre>|<code.*?</code>", RegexOptions.Singleline)]
    private static partial Regex Unseen();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("(?:aria-label|alt|title|placeholder)=\"([^\"]*)\"")]
    private static partial Regex Spoken();

    // 'Von null bis 15 g/L' is German for a number.
    [GeneratedRegex(@"\{\d+[:}]|\[missing|\b[A-Z][a-z]+\.[A-Z][a-z]+|\bNaN\b|∞|\bInfinity\b|(?<!\bvon )\bnull\b|\bundefined\b", RegexOptions.CultureInvariant)]
    private static partial Regex Slips();

    [GeneratedRegex(@"(?<![\w'/.-])[a-z]+(?:-[a-z0-9]+)+(?![\w/.=-])")]
    private static partial Regex Kebabs();
}
