using Microsoft.Playwright;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Keeps pictures of pages where the environment names a folder, to be looked at.</summary>
internal static class Pictures
{
    public static async Task KeepAsync(IPage page, string path, int width, ColorScheme scheme)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is { Length: > 0 })
        {
            await KeepAsync(await page.ScreenshotAsync(new PageScreenshotOptions { FullPage = true }).ConfigureAwait(false), path, width, scheme).ConfigureAwait(false);
        }
    }

    public static async Task KeepAsync(byte[] picture, string path, int width, ColorScheme scheme)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is not { Length: > 0 } folder)
        {
            return;
        }

        var name = path.Length == 0 ? "book" : path.Replace('/', '-').Replace('?', '-').Replace('=', '-');
        await File.WriteAllBytesAsync(Path.Combine(folder, $"{(name.Length > 80 ? name[..80] : name)}-{width}-{scheme}.png"), picture).ConfigureAwait(false);
    }
}
