using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Dashboard;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>Every page in every language, from the narrowest phone to the desk: nothing scrolls sideways, and no word of the navigation, of a button or of a field's name is cut.</summary>
public sealed class PageWidthTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly int[] Widths = [320, 390, 768, 1280];

    [Fact]
    public async Task EveryPage_FitsEveryWidthInEveryLanguage()
    {
        await using var stage = await CellarStage.StartAsync();
        var faults = new List<string>();
        var looks = 0;
        foreach (var language in Language.All)
        {
            await stage.SpeakAsync(language.Code);
            foreach (var seer in stage.Visits.GroupBy(visit => visit.By))
            {
                var (page, _) = await browser.OpenAsync(Widths[0], 844, ColorScheme.Light);
                await page.Context.AddCookiesAsync(stage.CookiesOf(seer.Key));
                foreach (var visit in seer)
                {
                    await page.GotoAsync(new Uri(stage.RootFor(seer.Key), visit.Address).ToString());
                    foreach (var width in Widths)
                    {
                        await page.SetViewportSizeAsync(width, 844);
                        faults.AddRange((await page.EvaluateAsync<string[]>(Misfits)).Select(misfit => $"{language.Code} {visit.Address} for {visit.By} at {width} px: {misfit}"));
                        looks++;
                    }
                }

                await page.Context.CloseAsync();
            }
        }

        Assert.True(looks > 1000, $"{looks} looks");
        Assert.True(faults.Count == 0, $"{faults.Count} faults:\n" + string.Join('\n', faults.Take(200)));
    }

    private const string Misfits = """
        () => {
          const found = [];
          const beyond = document.documentElement.scrollWidth - document.documentElement.clientWidth;
          if (beyond > 0) {
            const wide = [...document.querySelectorAll('body *')].filter(one => !one.closest('.scroll') && one.checkVisibility() && one.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5);
            found.push(`scrolls sideways by ${beyond} px: ${wide.slice(0, 3).map(one => one.outerHTML.slice(0, 70)).join(' | ')}`);
          }
          for (const one of document.querySelectorAll('.tabs a, button, a.btn, label:not(.unseen), legend:not(.unseen), h1, h2, h3, summary')) {
            if (one.checkVisibility() && one.clientWidth > 0 && one.scrollWidth > one.clientWidth + 1) found.push(`cut: ${one.outerHTML.slice(0, 120)}`);
          }
          return found;
        }
        """;
}
