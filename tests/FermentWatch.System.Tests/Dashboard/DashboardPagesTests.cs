using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.Service.Dashboard;
using Microsoft.AspNetCore.Builder;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

public sealed partial class DashboardPagesTests
{
    // These pages need a store: EveryLinkTests follows them in the whole service.
    private static readonly string[] OverAStore =
        ["/care", "/away", "/alert-health", "/api", "/devices", "/people", "/trials", "/account", "/sensors", "/import", "/channels", "/export.zip", "/work", "/listening", "/broker", "/start", "/journal"];

    private static readonly string[] OfABatchOverAStore = ["readings.csv", "readings.parquet", "replay.zip", "label", "work", "edit", "journal"];

    [Fact]
    public async Task DayBook_SentenceFirstWithOddsAndFacts()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var html = Plain(await site.Client.GetStringAsync("", TestContext.Current.CancellationToken));
        Assert.Matches(@"Quince mead should be done around [A-Z][a-z]+, October \d\d; 9 in 10 between ([A-Z][a-z]+ \d\d and [A-Z][a-z]+ \d\d|[A-Z][a-z]+, October \d\d and [A-Z][a-z]+, November \d+)\.", html);
        Assert.Contains("Rhubarb and rose is under way. We can’t tell yet when it will end, because", html, StringComparison.Ordinal);
        Assert.Contains("Heather, dry is not known: no gravity heard since Oct 6, 4:38 am", html, StringComparison.Ordinal);
        Assert.Contains("Elderberry No. 2 has no gravity reading yet.", html, StringComparison.Ordinal);
        Assert.Contains("Damson wine lies still at 0.996", html, StringComparison.Ordinal);
        Assert.Contains("3 of 5 vessels were heard. Not known: Heather, dry, Elderberry No. 2.", html, StringComparison.Ordinal);
        Assert.Contains("Demo data: an invented cellar.", html, StringComparison.Ordinal);
        Assert.Contains("Carbon dioxide", html, StringComparison.Ordinal);
        Assert.Contains("Tuesday, October 6", html, StringComparison.Ordinal);
        Assert.DoesNotContain("All 5 vessels", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SugarBelowTenGramsPerLiter_TooLittleToTell()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(InventedCellar.LyingStill()));
        Assert.Contains("too little to tell from gravity", Plain(await site.Client.GetStringAsync("", TestContext.Current.CancellationToken)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task StretchOfThePast_NeitherCaptionNorKeySpeaksOfWhatItDoesNotShow()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var all = Plain(await site.Client.GetStringAsync("batch/quince", TestContext.Current.CancellationToken));
        string[] ahead = ["Each thin curve is one of twenty", "Each dot below is 1 chance in 20", "a possible future"];
        Assert.All(ahead, words => Assert.Contains(words, all, StringComparison.Ordinal));
        var html = await site.Client.GetStringAsync("batch/quince?from=2026-10-01T00:00:00Z&until=2026-10-02T00:00:00Z", TestContext.Current.CancellationToken);
        Assert.All(ahead, words => Assert.DoesNotContain(words, Plain(html), StringComparison.Ordinal));
        Assert.Contains("Shown: ", Plain(html), StringComparison.Ordinal);
        Assert.Equal(4, Regex.Count(html, "data-move=\"(earlier|later|closer|wider)\""));
        // The whole keeps the places of all four, so that a thumb finds 'Closer' where it was; three lead nowhere.
        var whole = await site.Client.GetStringAsync("batch/quince", TestContext.Current.CancellationToken);
        Assert.Equal(3, Regex.Count(whole, "<a class=\"btn quiet\" role=\"link\" aria-disabled=\"true\">(Earlier|Later|Wider)</a>"));
    }

    [Fact]
    public async Task BatchWithoutReadings_SaysWhatBeginsItsCurve()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var html = Plain(await site.Client.GetStringAsync("batch/elder", TestContext.Current.CancellationToken));
        Assert.Contains("There is no gravity reading yet.", html, StringComparison.Ordinal);
        Assert.Contains("or the first message of a sensor begins the curve. Connect a sensor", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task BatchPage_PictureHasEveryPartAndWords()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var html = await site.Client.GetStringAsync("batch/quince", TestContext.Current.CancellationToken);
        foreach (var box in (string[])["phone", "wide"])
        {
            var svg = Regex.Match(html, $"<svg[^>]*class=\"{box}\".*?</svg>", RegexOptions.Singleline).Value;
            Assert.Contains("role=\"img\"", svg, StringComparison.Ordinal);
            Assert.Contains("<title id=\"curve-" + box, svg, StringComparison.Ordinal);
            Assert.Contains("Twenty equally likely futures", svg, StringComparison.Ordinal);
            Assert.Equal(20, Regex.Count(svg, "class=\"future\""));
            Assert.Equal(box == "phone" ? 20 : 50, Regex.Count(svg, "class=\"dot\""));
            Assert.Equal(2, Regex.Count(svg, "class=\"measured\""));
            Assert.Single(Regex.Matches(svg, "class=\"gap\""));
            Assert.Single(Regex.Matches(svg, "class=\"fit\""));
            Assert.Single(Regex.Matches(svg, "class=\"now\""));
            Assert.Single(Regex.Matches(svg, "class=\"hand\""));
            Assert.Equal(5, Regex.Count(svg, "class=\"aside\""));
            Assert.Equal(5, Regex.Count(svg, "class=\"lead-line\""));
        }

        Assert.DoesNotMatch("style=|<style|onclick|<script(?![^>]*src=)", html);
    }

    [Fact]
    public async Task NameWithMarkup_IsEncodedInPageAndPicture()
    {
        var entry = InventedCellar.MidFerment(name: "Quince <i>& \"mead\"");
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(entry));
        foreach (var path in (string[])["", "batch/quince", "batch/quince/table", "batch/quince/picture.svg"])
        {
            var text = await site.Client.GetStringAsync(path, TestContext.Current.CancellationToken);
            Assert.DoesNotContain("<i>", text, StringComparison.Ordinal);
            Assert.Contains("Quince &lt;i&gt;", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task EveryAnswer_CarriesThePolicyAndNoPageIsStored()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full(), also: app => app.MapGet("/fails", string () => throw new InvalidOperationException("on purpose")));
        foreach (var (path, status) in ((string, HttpStatusCode)[])[("", HttpStatusCode.OK), ("batch/quince", HttpStatusCode.OK), ("batch/none", HttpStatusCode.NotFound), ("batch/none/table", HttpStatusCode.NotFound), ("a/b.c", HttpStatusCode.NotFound), ("fails", HttpStatusCode.InternalServerError)])
        {
            using var answer = await site.Client.GetAsync(path, TestContext.Current.CancellationToken);
            Assert.Equal(status, answer.StatusCode);
            Assert.Equal(
                "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'self'; frame-ancestors 'none'",
                answer.Headers.GetValues("Content-Security-Policy").Single());
            Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
            Assert.True(answer.Headers.CacheControl!.NoStore);
            var html = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            Assert.Contains("</html>", html, StringComparison.Ordinal);
            Assert.DoesNotContain("on purpose", html, StringComparison.Ordinal);
            Assert.DoesNotContain("Exception", html, StringComparison.Ordinal);
        }
    }

    private static bool NeedsAStore(string path) =>
        OverAStore.Any(one => (path + "/").StartsWith(one + "/", StringComparison.Ordinal))
        || OfABatchOverAStore.Any(one => path.StartsWith("/batch/", StringComparison.Ordinal) && path.Split('/').Skip(3).FirstOrDefault() == one);

    [Theory]
    [InlineData("")]
    [InlineData("/cellar")]
    public async Task EveryLinkOnEveryPage_LeadsSomewhere(string pathBase)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full(), pathBase);
        var waiting = new Queue<Uri>([site.Root]);
        var seen = new HashSet<Uri>(waiting);
        while (waiting.TryDequeue(out var address))
        {
            using var answer = await site.Client.GetAsync(address, TestContext.Current.CancellationToken);
            Assert.True(answer.IsSuccessStatusCode, $"{address}: {answer.StatusCode}");
            if (answer.Content.Headers.ContentType?.MediaType != "text/html")
            {
                continue;
            }

            foreach (Match link in Links().Matches(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)))
            {
                var target = new Uri(address, WebUtility.HtmlDecode(link.Groups[1].Value));
                Assert.StartsWith(site.Root.ToString(), target.ToString(), StringComparison.Ordinal);
                // From a stretch of a curve one comes to ever more of them: one step is enough.
                var isDeeper = address.Query.Contains("until=", StringComparison.Ordinal) && target.Query.Contains("until=", StringComparison.Ordinal);
                if (!isDeeper && !NeedsAStore(target.AbsolutePath[pathBase.Length..]) && seen.Add(target))
                {
                    waiting.Enqueue(target);
                }
            }
        }

        Assert.True(seen.Count > 15, $"only {seen.Count} addresses");
    }

    [Fact]
    public async Task BasePathWithoutSlash_LeadsToTheSlash()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full(), "/cellar");
        using var answer = await site.Client.GetAsync(new Uri(site.Root, "/cellar"), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.MovedPermanently, answer.StatusCode);
        Assert.Equal("/cellar/", answer.Headers.Location!.ToString());
    }

    [Fact]
    public async Task EmptyBoard_TellsHowToConnectASensor()
    {
        await using var site = await DashboardSite.StartAsync(null);
        var html = Plain(await site.Client.GetStringAsync("", TestContext.Current.CancellationToken));
        Assert.Contains("No batch in the book yet", html, StringComparison.Ordinal);
        Assert.Contains("mosquitto_pub -h localhost -p 1883", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Demo data", html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NothingComputedForElevenMinutes_EveryPageSaysSo()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        Assert.DoesNotContain("Nothing was computed since", await site.Client.GetStringAsync("alerts", TestContext.Current.CancellationToken), StringComparison.Ordinal);
        site.Time.Advance(TimeSpan.FromMinutes(11));
        Assert.Contains("Nothing was computed since Oct 6, 6:38 pm", Plain(await site.Client.GetStringAsync("alerts", TestContext.Current.CancellationToken)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Messages_ShowWhatCouldNotBeReadWithReason()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var html = await site.Client.GetStringAsync("messages", TestContext.Current.CancellationToken);
        Assert.Contains("cellar/float-3/state", html, StringComparison.Ordinal);
        Assert.Contains("1,042&quot;} &lt;b&gt;", html, StringComparison.Ordinal);
        Assert.Contains("1\u202f284", WebUtility.HtmlDecode(html), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("width=wide&view=gravity", HttpStatusCode.OK, "Gravity of Quince mead")]
    [InlineData("width=phone&from=2026-10-02T00:00:00Z&until=2026-10-04T00:00:00Z", HttpStatusCode.OK, "October 1 to October 3")]
    [InlineData("width=huge", HttpStatusCode.BadRequest, "'width' is 'huge'; it must be one of: phone, wide.")]
    [InlineData("from=yesterday&until=2026-10-04T00:00:00Z", HttpStatusCode.BadRequest, "'from' is 'yesterday'; it must be a date and time")]
    [InlineData("from=2026-10-02T00:00:00Z", HttpStatusCode.BadRequest, "both 'from' and 'until'")]
    public async Task PictureAlone_AnswersTheRangeOrNamesTheFault(string query, HttpStatusCode status, string words)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        using var answer = await site.Client.GetAsync("batch/quince/picture.svg?" + query, TestContext.Current.CancellationToken);
        Assert.Equal(status, answer.StatusCode);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains(words, Plain(text).Replace("\\u0027", "'", StringComparison.Ordinal), StringComparison.Ordinal);
        if (status == HttpStatusCode.OK)
        {
            Assert.Equal("image/svg+xml", answer.Content.Headers.ContentType!.MediaType);
            var document = global::System.Xml.Linq.XDocument.Parse(text);
            Assert.Equal("svg", document.Root!.Name.LocalName);
        }
    }

    [Fact]
    public void BasePathThatEndsWithASlash_IsRefusedByName()
    {
        var fault = Assert.Throws<ArgumentException>(() => new Microsoft.Extensions.DependencyInjection.ServiceCollection().AddDashboard(new DashboardOptions { PathBase = "/cellar/" }));
        Assert.Contains("PathBase is '/cellar/'", fault.Message, StringComparison.Ordinal);
    }

    [GeneratedRegex("(?:href|src)=\"([^\"]+)\"")]
    private static partial Regex Links();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+")]
    private static partial Regex Space();

    /// <summary>Words without tags, entities and kinds of space.</summary>
    private static string Plain(string html) => Space().Replace(WebUtility.HtmlDecode(Tags().Replace(html, "")).Replace('\u00a0', ' '), " ");
}
