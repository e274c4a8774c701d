using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>The preferences on their pages, and what they change elsewhere.</summary>
public sealed partial class PreferencePagesTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly string[] Pages = ["", "batch/quince", "batch/quince?part=tail", "batch/quince?view=gravity", "batch/damson?view=gravity", "batch/damson?part=week", "batch/heather", "batch/elder", "alerts", "messages", "settings", "batch/quince/table"];

    private static readonly string[] Forms = ["language", "units", "numbers", "zone", "quiet", "address", "messages", "limits", "scales"];

    [Theory]
    [InlineData("plato", "fahrenheit", "gallons")]
    [InlineData("brix", "celsius", "liters")]
    [InlineData("sg", "fahrenheit", "liters")]
    [InlineData("sg", "celsius", "gallons")]
    public async Task AnyPage_HasOnlyTheChosenUnitsAndMark(string gravity, string temperature, string volume)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        await SendAsync(site.Client, "units", ("gravity", gravity), ("temperature", temperature), ("volume", volume), ("mass", "ounces"));
        await SendAsync(site.Client, "numbers", ("mark", "comma"));
        var found = "";
        foreach (var path in Pages)
        {
            var text = AsSent().Replace(WebUtility.HtmlDecode(Tags().Replace(Raw().Replace(await site.Client.GetStringAsync(path, TestContext.Current.CancellationToken), " "), " ")), " ");
            Assert.False(text.Contains(temperature == "celsius" ? "°F" : "°C", StringComparison.Ordinal), $"{path} has the other temperature.");
            Assert.False(volume == "gallons" && LitersAlone().IsMatch(text), $"{path} has liters.");
            Assert.False(gravity != "sg" && Specific().Match(text) is { Success: true }, $"{path} has a specific gravity: {Around(text, Specific())}");
            Assert.False(gravity == "sg" && text.Contains("°P", StringComparison.Ordinal), $"{path} has °P.");
            Assert.False(Point().IsMatch(text), $"{path} has a decimal point: {Around(text, Point())}");
            found += text;
        }

        Assert.Contains(temperature == "celsius" ? "°C" : "°F", found, StringComparison.Ordinal);
        Assert.Contains(gravity switch { "plato" => "°P", "brix" => "°Bx", _ => "1,066" }, found, StringComparison.Ordinal);
        Assert.Contains(volume == "gallons" ? "gal" : "19,0", found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("zone", "zone", "Europe/Berlyn", "Europe/Berlin")]
    [InlineData("messages", "inbox-days", "0", "1 to 365")]
    [InlineData("messages", "inbox-megabytes", "lots", "16 to 10000")]
    [InlineData("address", "address", "ftp://cellar", "https://")]
    [InlineData("quiet", "quiet-from", "25:00", "00:00 to 23:59")]
    [InlineData("units", "gravity", "stone", "°Plato")]
    public async Task ValueThatCannotBe_StaysInTheFormWithWhatWouldBeRight(string form, string field, string typed, string right)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var before = await site.Client.GetStringAsync("preferences", TestContext.Current.CancellationToken);
        var answer = await PostAsync(site.Client, form, (field, typed));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var html = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Contains($"'{typed}'", html, StringComparison.Ordinal);
        Assert.Contains(right, html, StringComparison.Ordinal);
        Assert.Equal(before, await site.Client.GetStringAsync("preferences", TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task ListAndForms_NeitherBarrierNorSidewaysScrollAndAreReachedFromSettings()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        foreach (var (width, scheme) in ((int, ColorScheme)[])[(390, ColorScheme.Dark), (320, ColorScheme.Light), (1280, ColorScheme.Light)])
        {
            var (page, errors) = await browser.OpenAsync(width, 2000, scheme);
            await page.GotoAsync(new Uri(site.Root, "settings").ToString());
            await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Units, time, and what is kept" }).ClickAsync();
            var links = await page.Locator("main .prefline").AllAsync();
            Assert.Equal(Forms.Length, links.Count);
            foreach (var path in Forms.Select(form => "preferences/" + form).Prepend("preferences"))
            {
                await page.GotoAsync(new Uri(site.Root, path).ToString());
                Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
                var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
                Assert.True(found.Violations.Length == 0, $"{path}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
                await Pictures.KeepAsync(page, path, width, scheme);
            }

            Assert.Empty(errors);
        }
    }

    [Fact]
    public async Task FahrenheitAndCommaChosenOnAPhone_BatchPageAxisAndNoticeChangeAndStayAfterARestart()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var start = new DateTimeOffset(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);
        var clock = new DemoClock(start);
        await using var service = await RunningService.StartAsync(file => Configure(file, relay.Topic), clock);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "preferences").ToString());
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Gravity in SG" }).ClickAsync();
        await page.GetByLabel("°F").CheckAsync();
        await page.GetByLabel("°Plato").CheckAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Keep" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "decimal point" }).ClickAsync();
        await page.GetByLabel("comma").CheckAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Keep" }).ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("as in 19,4");

        for (var minute = 0; minute <= 120; minute += 10)
        {
            clock.MoveTo(start.AddMinutes(minute));
            var payload = FormattableString.Invariant($"{{\"gravity\":{1.0812 - (minute * 0.00005)},\"celsius\":{(minute <= 60 ? 20.0 : 24.0)}}}");
            var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/one", "-m", payload);
            Assert.True(exit == 0, complaint);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 26, () => $"{service.Store.ReadCounts()}");
        clock.Run(60);
        await Eventually.TrueAsync(() => !relay.Requests.IsEmpty, "no notice came");
        var notice = JsonNode.Parse(relay.Requests.First().Body)!.AsObject().Select(field => field.Value!.ToString()).ToList();
        Assert.Contains(notice, words => words.Contains("75,2 °F", StringComparison.Ordinal) && words.Contains("71,6 °F", StringComparison.Ordinal));
        Assert.DoesNotContain(notice, words => words.Contains("°C", StringComparison.Ordinal));

        await page.GotoAsync(new Uri(service.Page, "batch/sloe?view=gravity").ToString());
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("75,2\u00a0°F");
        await Assertions.Expect(page.Locator("svg.phone text", new PageLocatorOptions { HasTextString = "°P" }).First).ToBeVisibleAsync();
        Assert.Empty(errors);

        // What a new start would find.
        var again = new PreferenceBook(new PreferenceSet(), service.Store.ReadProperties("preference-"), (_, _) => Task.CompletedTask);
        Assert.Equal((TemperatureUnit.Fahrenheit, GravityUnit.Plato, DecimalMark.Comma), (again.Present.Units.Temperature, again.Present.Units.Gravity, again.Present.Units.Mark));
    }

    [Fact]
    public async Task ZoneChosenAndGivenBack_TimesFollowAndTheConfigurationCountsAgain()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        await SendAsync(client, "zone", ("zone", "Asia/Kolkata"));
        await SendAsync(client, "quiet", ("quiet-from", "21:30"), ("quiet-until", "07:00"));
        var chosen = WebUtility.HtmlDecode(await client.GetStringAsync("preferences", TestContext.Current.CancellationToken));
        Assert.Contains("Times in Asia/Kolkata", chosen, StringComparison.Ordinal);
        Assert.Contains("Quiet from 9:30\u00a0pm to 7\u00a0am.", chosen, StringComparison.Ordinal);
        await SendAsync(client, "zone", ("zone", ""));
        Assert.Contains("Times in UTC", await client.GetStringAsync("preferences", TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Equal(["preference-quiet-from", "preference-quiet-until"], service.Store.ReadProperties("preference-").Keys.Order());
    }

    private static void Configure(JsonObject file, Uri relay)
    {
        file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "float-1", null, ("/gravity", "gravity", "SG"), ("/celsius", "temperature", "°C")));
        file["Batches"] = new JsonArray(new JsonObject
        {
            ["Id"] = "sloe",
            ["Name"] = "Sloe wine",
            ["Kind"] = "wine",
            ["VolumeLiters"] = 10,
            ["Inoculated"] = "2026-10-06T05:00:00Z",
            ["OriginalGravity"] = 1.090,
            ["BandLowCelsius"] = 18,
            ["BandHighCelsius"] = 22,
            ["TolerancePercent"] = 14,
            ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float-1" }),
        });
        file["Relay"] = new JsonObject { ["Url"] = relay.AbsoluteUri };
    }

    private static async Task SendAsync(HttpClient client, string form, params (string Name, string Value)[] fields)
    {
        var answer = await PostAsync(client, form, fields);
        Assert.True(answer.StatusCode is HttpStatusCode.Redirect or HttpStatusCode.OK, $"{form}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)}");
    }

    private static async Task<HttpResponseMessage> PostAsync(HttpClient client, string form, params (string Name, string Value)[] fields)
    {
        var html = await client.GetStringAsync("preferences/" + form, TestContext.Current.CancellationToken);
        var token = Token().Match(html).Groups[1].Value;
        using var content = new FormUrlEncodedContent([new("token", token), .. fields.Select(field => new KeyValuePair<string, string>(field.Name, field.Value))]);
        return await client.PostAsync("preferences/" + form, content, TestContext.Current.CancellationToken);
    }

    private static string Around(string text, Regex found) =>
        found.Match(text) is { Success: true } match ? text[Math.Max(0, match.Index - 60)..Math.Min(text.Length, match.Index + 60)] : "";

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    // What devices sent, samples of configuration, and addresses stay as they are.
    [GeneratedRegex("<p class=\"raw\">.*?</p>|<pre.*?</pre>|<code.*?</code>", RegexOptions.Singleline)]
    private static partial Regex Raw();

    [GeneratedRegex(@"'\d[^'\s]*'|\b\d+(\.\d+){3}:\d+")]
    private static partial Regex AsSent();

    [GeneratedRegex(@"\d\u00a0L\b")]
    private static partial Regex LitersAlone();

    [GeneratedRegex(@"\b[01][.,]\d{3,4}\b")]
    private static partial Regex Specific();

    [GeneratedRegex(@"\d\.\d")]
    private static partial Regex Point();
}
