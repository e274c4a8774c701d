using System.Net;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

public sealed class BenchTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly Units American = new(GravityUnit.Plato, TemperatureUnit.Fahrenheit, VolumeUnit.UsGallons, MassUnit.Ounces, DecimalMark.Comma);

    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    [Fact]
    public async Task Bench_LeadsToEveryWorksheet()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var html = await site.Client.GetStringAsync("bench", TestContext.Current.CancellationToken);
        Assert.All(WorksheetCatalog.All, sheet => Assert.Contains($"bench/{sheet.Name}\"", html, StringComparison.Ordinal));
        using var answer = await site.Client.GetAsync("bench/no-such-sheet", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task EveryPublishedSource_LeadsToItsWork()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var works = WebUtility.HtmlDecode(await site.Client.GetStringAsync("bench/sources", TestContext.Current.CancellationToken));
        var keys = WorksheetCatalog.All.SelectMany(sheet => sheet.Sources).Where(source => source.Standing is SourceStanding.Published).Select(source => source.Key)
            .Concat(TasteStimulus.All.Select(stimulus => stimulus.SourceKey).Where(key => key.Length > 0)).ToHashSet(StringComparer.Ordinal);
        Assert.All(keys, key => Assert.Contains($"id=\"{key}\"", works, StringComparison.Ordinal));
        // The title, what rests on it, and how far it was read.
        Assert.Contains("Stuck and sluggish fermentations, Am. J. Enol. Vitic. 50: 107-119, 1999", works, StringComparison.Ordinal);
        var sheet = await site.Client.GetStringAsync("bench/restart-plan", TestContext.Current.CancellationToken);
        Assert.Contains("bench/sources#Bisson1999\"", sheet, StringComparison.Ordinal);
    }

    // Every worked example in the reader's units and decimal mark gives the results that the library gives in its own.
    [Theory]
    [MemberData(nameof(Names))]
    public void Examples_TypedInOtherUnits_GiveTheSameResults(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        var reader = new Reader(TimeZoneInfo.Utc, American);
        Assert.All(sheet.Examples, example =>
        {
            var typed = example.Given.ToDictionary(field => field.Key, field => sheet.Inputs.Single(input => input.Key == field.Key) switch
            {
                NumberInput number => Typed(number.Kind, field.Value, reader),
                NumberListInput list => string.Join(" ; ", field.Value.Split(';').Select(part => Typed(list.Kind, part, reader))),
                _ => field.Value,
            });
            var state = SheetState.Of(sheet, typed.GetValueOrDefault, new Dictionary<string, BatchValue>(), isSent: true, reader);
            Assert.True(state.Answer is not null, string.Join(" ", state.Fields.Select(field => field.Fault)));
            var expected = sheet.Run(example.Given).Answer!;
            Assert.Equal(expected.Notices.Select(notice => notice.Code), state.Answer.Notices.Select(notice => notice.Code));
            Assert.Equal(expected.Results.Select(result => result.Output.Key), state.Answer.Results.Select(result => result.Output.Key));
        });
    }

    [Fact]
    public void ValueOutsideItsRange_IsNamedInTheReadersUnits()
    {
        var sheet = WorksheetCatalog.Find("alcohol-from-gravity")!;
        var typed = new Dictionary<string, string> { ["original-gravity"] = "60", ["present-gravity"] = "1,2" };
        var state = SheetState.Of(sheet, typed.GetValueOrDefault, new Dictionary<string, BatchValue>(), isSent: true, new Reader(TimeZoneInfo.Utc, American));

        Assert.Null(state.Answer);
        // 44 % sucrose has 1197.2 kg/m³ at 20 °C [CRC102], water 998.2: 1.1994, so 1.200 is a little above 44 °P.
        Assert.Equal("Original gravity is 60; it must be a number from 0 to 44,1\u00a0°P.", state.Fields[0].Fault);
        Assert.Null(state.Fields[1].Fault);
    }

    [Fact]
    public async Task BatchChosen_ItsFiguresStandInTheFieldsWithWhereTheyComeFrom()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(site.Root, "bench/alcohol-from-gravity").ToString());
        Assert.Equal("", await page.Locator("#present-gravity").InputValueAsync());
        await page.Locator("#for-batch").SelectOptionAsync("quince");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Fill in" }).ClickAsync();
        Assert.StartsWith("1.", await page.Locator("#present-gravity").InputValueAsync(), StringComparison.Ordinal);
        await Assertions.Expect(page.Locator("#present-gravity-hint")).ToContainTextAsync("Reading of");
        await Assertions.Expect(page.Locator("#result .amt").First).ToContainTextAsync("% vol");
        Assert.Empty(errors);
    }

    [Theory]
    [InlineData("eu")]
    [InlineData("us")]
    [InlineData("oiv")]
    public void LawOfTheSettings_IsTakenUntilAnotherIsChosenOnTheSheet(string law)
    {
        var sheet = WorksheetCatalog.Find("sulfite-dose")!;
        var chosen = new Dictionary<string, string> { ["law"] = law };
        var reader = new Reader(TimeZoneInfo.Utc, American);
        var fresh = SheetState.Of(sheet, _ => null, new Dictionary<string, BatchValue>(), isSent: false, reader, chosen);
        var changed = SheetState.Of(sheet, key => key == "law" ? "strictest" : null, new Dictionary<string, BatchValue>(), isSent: false, reader, chosen);

        var field = fresh.Fields.Single(one => one.Input.Key == "law");
        Assert.Equal(law, field.Typed);
        Assert.Contains("As chosen in the settings.", field.Hint, StringComparison.Ordinal);
        Assert.Equal("strictest", changed.Fields.Single(one => one.Input.Key == "law").Typed);
    }

    [Fact]
    public async Task WhileTyping_TheServiceComputesAndAFaultKeepsTheLastResult()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(site.Root, "bench/alcohol-from-gravity").ToString());
        await page.Locator("#original-gravity").FillAsync("1.090");
        await page.Locator("#present-gravity").FillAsync("0.992");
        // 13.11 % vol: the model computed by a second program, see the entry's example.
        await Assertions.Expect(page.Locator("#result .amt").First).ToContainTextAsync("13.1");
        await page.Locator("#present-gravity").FillAsync("9.92");
        await Assertions.Expect(page.Locator("#present-gravity-fault")).ToContainTextAsync("Gravity now is 9.92; it must be a number from 0.970 to 1.200 SG");
        await Assertions.Expect(page.Locator("#result .amt").First).ToContainTextAsync("13.1");
        Assert.Equal("true", await page.Locator("#present-gravity").GetAttributeAsync("aria-invalid"));
        await page.Locator("#present-gravity").FillAsync("1.000");
        await Assertions.Expect(page.Locator("#present-gravity-fault")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator("#result .amt").First).Not.ToContainTextAsync("13.1");
        Assert.Empty(errors);
    }

    private static string Typed(QuantityKind kind, string text, Reader reader)
    {
        Assert.True(kind.TryRead(text, out var kept), text);
        return SheetFields.Typed(kind, kept, reader);
    }
}
