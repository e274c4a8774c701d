using System.Text.RegularExpressions;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.Preferences;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>
/// Every page of the service in a real browser over a full cellar, as axe-core checks WCAG 2.2 A and AA with enhanced contrast and its best
/// practices; no sideways scroll; 44 px to press; a walk by keyboard. In the test command at 390 px in both themes in English;
/// the campaign looks at every width, every stop of the keyboard and other languages, whole or in slices (<see cref="PageSlice"/>).
/// </summary>
public sealed class PageMatrixTests(Browser browser) : IClassFixture<Browser>
{
    private const int Touch = 44;
    private static readonly PageSlice Slice = PageSlice.FromEnvironment();

    private static readonly AxeRunOptions All = new()
    {
        RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"),
        Rules = new Dictionary<string, RuleOptions> { ["color-contrast-enhanced"] = new() { Enabled = true }, ["target-size"] = new() { Enabled = true } },
    };

    private static readonly AxeRunOptions ColorsAlone = new() { RunOnly = RunOnlyOptions.Rules("color-contrast", "color-contrast-enhanced", "link-in-text-block") };

    [Fact]
    public async Task EveryPage_HasNoBarrierNoSidewaysScrollAndCanBeWalkedByKeyboard()
    {
        await using var stage = await CellarStage.StartAsync();
        var visits = stage.Visits;
        var looks = new PageLooks();
        var faults = new List<string>();
        foreach (var language in Slice.Languages)
        {
            await stage.SpeakAsync(language);
            foreach (var width in Slice.Widths)
            {
                var before = faults.Count;
                foreach (var seer in visits.GroupBy(visit => visit.By))
                {
                    faults.AddRange(await SeenByAsync(stage, seer, width, language, looks));
                }

                PageSlice.Tell($"{language} {width} px {string.Join(" and ", Slice.Themes)}: {visits.Count} pages, {faults.Count - before} faults", faults.Skip(before));
            }
        }

        var routes = PageList.Routes(stage.Cellar.Service);
        Assert.True(routes.Count > 50, $"only {routes.Count} pages");
        Assert.Empty(looks.Missing(routes));
        Assert.True(faults.Count == 0, $"{faults.Count} faults:\n" + string.Join('\n', faults.Take(60)));
    }

    /// <summary>The themes are told apart by their colors alone, so that everything else need be looked at in one of them only.</summary>
    [Fact]
    public void Theme_ChangesColorsOnly()
    {
        var folder = Path.Combine(LanguageTests.Repository(), "src", "FermentWatch.Service", "Dashboard", "Assets");
        Assert.Equal(["tokens.css"], Directory.EnumerateFiles(folder, "*.*s*").Where(file => File.ReadAllText(file).Contains("prefers-color-scheme", StringComparison.Ordinal)).Select(Path.GetFileName));
        var dark = File.ReadAllText(Path.Combine(folder, "tokens.css")).Split("@media (prefers-color-scheme: dark)")[1].Split("\n}")[0];
        var set = Regex.Matches(dark, @"([\w-]+)\s*:\s*([^;{}]+);");
        Assert.True(set.Count > 10, dark);
        Assert.All(set, one => Assert.Matches(@"^--[\w-]+$", one.Groups[1].Value));
        Assert.All(set, one => Assert.Matches(@"^(#[0-9a-f]{3,8}|rgba?\(.*\)|none)$", one.Groups[2].Value));
    }

    private async Task<List<string>> SeenByAsync(CellarStage stage, IGrouping<Seer, PageVisit> visits, int width, string language, PageLooks looks)
    {
        var faults = new List<string>();
        var (page, errors) = await browser.OpenAsync(width, 844, Slice.Themes[0]);
        await page.Context.AddCookiesAsync(stage.CookiesOf(visits.Key));
        foreach (var visit in visits)
        {
            var found = await FaultsAsync(page, stage.RootFor(visits.Key), visit, width, language, looks);
            faults.AddRange(found.Select(fault => $"{visit.Address} for {visits.Key} at {width} px, {language}: {fault}"));
        }

        // A page that is not there is an answer 404, which the browser notes by itself.
        faults.AddRange(errors.Where(error => !error.Contains("404", StringComparison.Ordinal)));
        await page.Context.CloseAsync();
        return faults;
    }

    [Fact]
    public void PageThatNobodyLookedAt_IsNamed()
    {
        var looks = new PageLooks();
        foreach (var look in Enum.GetValues<PageLook>())
        {
            looks.Note(look, "/alerts");
        }

        looks.Note(PageLook.Axe, "/care");
        Assert.Equal(["/care has no Keyboard", "/care has no Picture"], looks.Missing(new HashSet<string> { "/alerts", "/care" }));
    }

    private static async Task<List<string>> FaultsAsync(IPage page, Uri root, PageVisit visit, int width, string language, PageLooks looks)
    {
        var faults = new List<string>();
        await page.SetViewportSizeAsync(width, 844);
        var address = new Uri(root, visit.Address);
        var answer = await page.GotoAsync(address.ToString());
        if (answer is null || answer.Status != (IsNowhere(visit.Address) ? 404 : 200) || !answer.Headers["content-type"].StartsWith("text/html", StringComparison.Ordinal) || new Uri(page.Url).AbsolutePath != address.AbsolutePath)
        {
            return [$"is no page: {answer?.Status} {answer?.Headers.GetValueOrDefault("content-type")} at {page.Url}"];
        }

        var spoken = await page.EvaluateAsync<string>("() => document.documentElement.lang");
        if (spoken != language)
        {
            faults.Add($"speaks {spoken}");
        }

        if (await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth") is var beyond and not 0)
        {
            faults.Add($"scrolls sideways by {beyond} px");
        }

        faults.AddRange(await page.EvaluateAsync<string[]>(SmallTargets, Touch));
        faults.AddRange(await page.EvaluateAsync<string[]>(CutInPictures));
        faults.AddRange(await page.EvaluateAsync<string[]>(BrokenInTabs));
        faults.AddRange(await WalkAsync(page));
        looks.Note(PageLook.Keyboard, visit.Route);

        // The whole page in view: else the sticky foot counts as covering a target.
        await page.SetViewportSizeAsync(width, Math.Max(844, await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight")));
        foreach (var scheme in Slice.Themes)
        {
            // Without motion no button is on its way from one color to the other.
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            faults.AddRange((await BarriersAsync(page, scheme == Slice.Themes[0] ? All : ColorsAlone)).Select(barrier => $"{scheme}: {barrier}"));
            looks.Note(PageLook.Axe, visit.Route);
            var picture = await page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true });
            // Paper without anything on it packs to a few hundred bytes.
            if (picture.Length < 2000)
            {
                faults.Add($"{scheme}: its picture is empty: {picture.Length} bytes");
            }

            await Pictures.KeepAsync(picture, $"page-{(language == "en" ? "" : language + "-")}{visit.By}-{visit.Address}", width, scheme);
            looks.Note(PageLook.Picture, visit.Route);
        }

        return faults;
    }

    private static async Task<IEnumerable<string>> BarriersAsync(IPage page, AxeRunOptions options)
    {
        var found = await page.RunAxe(options);
        var barriers = found.Violations.Select(one => $"{one.Id}: {string.Join(" | ", one.Nodes.Take(3).Select(node => node.Html.Length > 160 ? node.Html[..160] : node.Html))}");
        return found.Passes.Any(one => one.Id == "color-contrast-enhanced") ? barriers : barriers.Append("nothing was looked at for its contrast");
    }

    // Addresses that the list holds because nothing is there.
    private static bool IsNowhere(string address) => address is "nowhere/at/all" or "batch/none";

    // What is pressed with a thumb; links within sentences have the line's height, as WCAG 2.5.8 allows.
    private const string SmallTargets = """
        least => [...document.querySelectorAll('button, select, summary, a.btn, .tabs a, input:not([type=hidden]):not([type=checkbox]):not([type=radio]):not([type=file])')]
          .filter(one => one.checkVisibility())
          .map(one => ({ one, box: (one.closest('.box') ?? one).getBoundingClientRect() }))
          .filter(({ box }) => box.height > 0 && box.height < least - 0.5)
          .map(({ one, box }) => `only ${Math.round(box.height)} px high to press: ${one.outerHTML.slice(0, 120)}`)
        """;

    // Words of a picture that begin or end beyond the edge of the page.
    private const string CutInPictures = """
        () => [...document.querySelectorAll('svg text')]
          .filter(one => one.checkVisibility())
          .map(one => ({ one, box: one.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.left < -0.5 || box.right > document.documentElement.clientWidth + 0.5))
          .map(({ one, box }) => `cut in a picture, from ${Math.round(box.left)} to ${Math.round(box.right)} px: ${one.textContent}`)
        """;

    // Words of the foot that stand on two lines.
    private const string BrokenInTabs = """
        () => [...document.querySelectorAll('.tabs a')].flatMap(link => [...link.childNodes].filter(node => node.nodeType === 3).flatMap(node =>
          [...node.data.matchAll(/\S+/g)].filter(word => {
            const range = document.createRange();
            range.setStart(node, word.index);
            range.setEnd(node, word.index + word[0].length);
            return range.getClientRects().length > 1;
          }).map(word => `a word of the foot is broken: ${word[0]}`)))
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
            if (fault == "end" || (!Slice.IsThorough && i >= 20))
            {
                break;
            }

            if (fault is not null)
            {
                faults.Add($"stop {i + 1} by keyboard: {fault}");
            }
        }

        var seen = await page.EvaluateAsync<int>("() => window.seen.size");
        if (seen < (Slice.IsThorough ? stops : Math.Min(stops, 15)))
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
          if (at === window.seen.values().next().value) return 'end';
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
