using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>
/// Every page of the service in a real browser over a full cellar, as axe-core checks WCAG 2.2 A and AA with enhanced contrast and its best
/// practices; no sideways scroll; 44 px to press; a walk by keyboard. In the test command at 390 px in both themes;
/// with FERMENTWATCH_PAGES=all also at 320, 768 and 1280 px, and every stop of the keyboard.
/// </summary>
public sealed class PageMatrixTests(Browser browser) : IClassFixture<Browser>
{
    private const int Touch = 44;
    private static readonly bool IsCampaign = Environment.GetEnvironmentVariable("FERMENTWATCH_PAGES") == "all";

    [Fact]
    public async Task EveryPage_HasNoBarrierNoSidewaysScrollAndCanBeWalkedByKeyboard()
    {
        await using var cellar = await FullCellar.StartAsync();
        using var maker = await Visitor.FirstMakerAsync(cellar.Service);
        var pages = PageList.Of(cellar.Service);
        Assert.True(pages.Count > 40, $"only {pages.Count} pages");
        var faults = new List<string>();
        foreach (var width in (int[])(IsCampaign ? [320, 390, 768, 1280] : [390]))
        {
            foreach (var scheme in (ColorScheme[])[ColorScheme.Light, ColorScheme.Dark])
            {
                var (page, errors) = await browser.OpenAsync(width, 844, scheme);
                await page.Context.AddCookiesAsync(maker.Cookies.GetAllCookies().Select(cookie => new Microsoft.Playwright.Cookie { Name = cookie.Name, Value = cookie.Value, Domain = cookie.Domain, Path = cookie.Path }));
                foreach (var path in pages)
                {
                    faults.AddRange((await FaultsAsync(page, cellar.Service.Page, path, width, scheme)).Select(fault => $"{path} at {width} px, {scheme}: {fault}"));
                }

                // A page that is not there is an answer 404, which the browser notes by itself.
                faults.AddRange(errors.Where(error => !error.Contains("404", StringComparison.Ordinal)));
                await page.Context.CloseAsync();
            }
        }

        Assert.True(faults.Count == 0, $"{faults.Count} faults:\n" + string.Join('\n', faults.Take(60)));
    }

    private static async Task<List<string>> FaultsAsync(IPage page, Uri root, string path, int width, ColorScheme scheme)
    {
        var faults = new List<string>();
        await page.SetViewportSizeAsync(width, 844);
        var answer = await page.GotoAsync(new Uri(root, path).ToString());
        if (answer is null || answer.Status is not (200 or 404) || !answer.Headers["content-type"].StartsWith("text/html", StringComparison.Ordinal))
        {
            return [$"is no page: {answer?.Status} {answer?.Headers.GetValueOrDefault("content-type")}"];
        }

        if (await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth") is var beyond and not 0)
        {
            faults.Add($"scrolls sideways by {beyond} px");
        }

        faults.AddRange(await page.EvaluateAsync<string[]>(SmallTargets, Touch));
        if (scheme == ColorScheme.Light || IsCampaign)
        {
            faults.AddRange(await WalkAsync(page));
        }

        // The whole page in view: else the sticky foot counts as covering a target.
        await page.SetViewportSizeAsync(width, Math.Max(844, await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight")));
        var found = await page.RunAxe(new AxeRunOptions
        {
            RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"),
            Rules = new Dictionary<string, RuleOptions> { ["color-contrast-enhanced"] = new() { Enabled = true }, ["target-size"] = new() { Enabled = true } },
        });
        faults.AddRange(found.Violations.Select(one => $"{one.Id}: {string.Join(" | ", one.Nodes.Take(3).Select(node => node.Html.Length > 160 ? node.Html[..160] : node.Html))}"));
        if (found.Passes.All(one => one.Id != "color-contrast-enhanced"))
        {
            faults.Add("nothing was looked at for its contrast");
        }

        await Pictures.KeepAsync(page, "page-" + path, width, scheme);
        return faults;
    }

    // What is pressed with a thumb; links within sentences have the line's height, as WCAG 2.5.8 allows.
    private const string SmallTargets = """
        least => [...document.querySelectorAll('button, select, summary, a.btn, .tabs a, input:not([type=hidden]):not([type=checkbox]):not([type=radio]):not([type=file])')]
          .filter(one => one.checkVisibility())
          .map(one => ({ one, box: (one.closest('.box') ?? one).getBoundingClientRect() }))
          .filter(({ box }) => box.height > 0 && box.height < least - 0.5)
          .map(({ one, box }) => `only ${Math.round(box.height)} px high to press: ${one.outerHTML.slice(0, 120)}`)
        """;

    /// <summary>Tab from the top: every stop is visible, ringed, not covered, and none is met twice before the others.</summary>
    private static async Task<List<string>> WalkAsync(IPage page)
    {
        var faults = new List<string>();
        var stops = await page.EvaluateAsync<int>(Stops);
        await page.EvaluateAsync("() => { document.activeElement?.blur(); window.seen = new Set(); }");
        // A time has a stop for each of its parts, so the walk is as long as it must be.
        for (var i = 0; i < 600; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            var fault = await page.EvaluateAsync<string?>(Stop);
            if (fault == "end" || (!IsCampaign && i >= 20))
            {
                break;
            }

            if (fault is not null)
            {
                faults.Add($"stop {i + 1} by keyboard: {fault}");
            }
        }

        var seen = await page.EvaluateAsync<int>("() => window.seen.size");
        if (seen < (IsCampaign ? stops : Math.Min(stops, 15)))
        {
            faults.Add($"only {seen} of {stops} stops are reached by keyboard");
        }

        return faults;
    }

    // Of radio buttons that belong together one is a stop.
    private const string Stops = """
        () => new Set([...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]')]
          .filter(one => one.checkVisibility() && !one.disabled)
          .map(one => one.type === 'radio' ? 'radio ' + one.name : one)).size
        """;

    private const string Stop = """
        () => {
          const at = document.activeElement;
          if (!at || at === document.body || (window.seen.size > 3 && at.matches('.skip'))) return 'end';
          const name = at.outerHTML.slice(0, 100);
          if (window.seen.size > 1 && at === window.seen.values().next().value) return 'end';
          if (window.seen.has(at) && !(at.type === 'radio') && !['time', 'date', 'datetime-local'].includes(at.type)) return 'comes back to ' + name;
          window.seen.add(at);
          const box = at.getBoundingClientRect();
          if (box.bottom <= 0 || box.top >= innerHeight) return 'out of sight: ' + name;
          const ring = [at, at.closest('.box'), at.closest('label')].filter(Boolean).map(one => getComputedStyle(one));
          if (!ring.some(style => style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2)) return 'no ring: ' + name;
          const foot = document.querySelector('.tabs');
          if (foot && !foot.contains(at) && getComputedStyle(foot).position === 'sticky' && box.top >= foot.getBoundingClientRect().top && foot.getBoundingClientRect().top > innerHeight / 2) return 'under the foot: ' + name;
          return null;
        }
        """;
}
