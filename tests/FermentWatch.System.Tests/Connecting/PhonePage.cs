using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.System.Tests.Dashboard;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>A page as a phone shows it: no sideways scroll, no barrier by WCAG 2.2 A and AA as axe-core checks them.</summary>
internal static class PhonePage
{
    /// <param name="page">The page.</param>
    /// <param name="name">Name of its pictures.</param>
    public static async Task CheckAsync(IPage page, string name)
    {
        Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
        // The whole page in view: else the sticky foot counts as covering a target.
        var size = page.ViewportSize!;
        await page.SetViewportSizeAsync(size.Width, Math.Max(size.Height, await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight")));
        foreach (var scheme in (ColorScheme[])[ColorScheme.Dark, ColorScheme.Light])
        {
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
            Assert.True(found.Violations.Length == 0, $"{name}, {scheme}: " + string.Join("; ", found.Violations.Select(one => one.Id + " " + string.Join(", ", one.Nodes.Select(node => node.Html)))));
            await Pictures.KeepAsync(page, name, size.Width, scheme);
        }

        await page.SetViewportSizeAsync(size.Width, size.Height);
    }
}
