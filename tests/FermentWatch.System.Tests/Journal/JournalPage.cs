using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>What people do on the pages of a batch, on a phone of 390 px.</summary>
internal static class JournalPage
{
    public static readonly LocatorAssertionsToBeVisibleOptions Patient = new() { Timeout = 60000 };

    /// <summary>Opens the short form of an entry that may stand behind the bar.</summary>
    public static async Task OpenAsync(IPage page, string kind)
    {
        var link = page.GetByRole(AriaRole.Link, new() { Name = kind + "…", Exact = true });
        if (!await link.IsVisibleAsync())
        {
            await page.GetByText("35 more kinds of entry").ClickAsync();
        }

        await link.ClickAsync();
        await CheckAsync(page);
    }

    /// <summary>Writes the entry of the open form, and waits until the page of the batch says so.</summary>
    public static async Task WriteAsync(IPage page, string expected)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync(expected);
    }

    /// <summary>Keeps a picture of the whole page where they are wanted.</summary>
    public static async Task PictureAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = true });
        }
    }

    public static async Task StartAsync(IPage page, RunningService service, string name, int daysAgo)
    {
        await page.GotoAsync(service.Page.ToString());
        await page.GetByRole(AriaRole.Link, new() { Name = "Start a batch" }).First.ClickAsync();
        await CheckAsync(page);
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync(name);
        await page.GetByLabel("Volume", new() { Exact = true }).FillAsync("20");
        await page.GetByLabel("Original gravity").FillAsync("1.092");
        await page.GetByLabel("Yeast in").FillAsync(Days(daysAgo));
        await page.GetByRole(AriaRole.Button, new() { Name = "Start a batch" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = name, Level = 1 })).ToBeVisibleAsync(Patient);
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Write in the book" })).ToBeVisibleAsync(Patient);
    }

    public static string Days(int ago) =>
        DateTime.UtcNow.AddDays(-ago).ToString("yyyy-MM-dd'T'HH:mm", global::System.Globalization.CultureInfo.InvariantCulture);

    public static async Task CheckAsync(IPage page)
    {
        // The whole page at once: what stands under the words at the foot is not small, only hidden for now.
        var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
        await page.SetViewportSizeAsync(390, Math.Max(844, whole));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, $"{page.Url}: " + string.Join("; ", found.Violations.Select(one => $"{one.Id} at {string.Join(", ", one.Nodes.Select(node => node.Html))}")));
        await page.SetViewportSizeAsync(390, 844);
        Assert.Equal(0, await page.EvaluateAsync<double>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
    }
}
