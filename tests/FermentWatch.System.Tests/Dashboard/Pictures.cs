using Microsoft.Playwright;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Keeps pictures of pages where the environment names a folder, to be looked at.</summary>
internal static class Pictures
{
    public static async Task KeepAsync(IPage page, string path, int width, ColorScheme scheme)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is not { Length: > 0 } folder)
        {
            return;
        }

        var name = path.Length == 0 ? "book" : path.Replace('/', '-').Replace('?', '-').Replace('=', '-');
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"{name}-{width}-{scheme}.png"), FullPage = true }).ConfigureAwait(false);
    }
}
