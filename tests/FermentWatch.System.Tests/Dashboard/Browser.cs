using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>A real headless Chromium, one for all tests of a class.</summary>
public sealed class Browser : IAsyncLifetime
{
    /// <summary>How long a step may take: many times what it does, since everything else of the machine may be at work too. [ms]</summary>
    private const float Patience = 180_000;

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    public async ValueTask InitializeAsync()
    {
        Assertions.SetDefaultExpectTimeout(Patience);
        _playwright = await Playwright.CreateAsync().ConfigureAwait(false);
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-dev-shm-usage"],
        }).ConfigureAwait(false);
    }

    /// <summary>A new page that notes every console error and page error.</summary>
    public async Task<(IPage Page, List<string> Errors)> OpenAsync(int width, int height, ColorScheme scheme, bool hasScript = true, bool hasTouch = false)
    {
        var context = await _browser!.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = scheme,
            JavaScriptEnabled = hasScript,
            HasTouch = hasTouch,
        }).ConfigureAwait(false);
        context.SetDefaultTimeout(Patience);
        context.SetDefaultNavigationTimeout(Patience);
        var page = await context.NewPageAsync().ConfigureAwait(false);
        var errors = new List<string>();
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                errors.Add(message.Text);
            }
        };
        page.PageError += (_, message) => errors.Add(message);
        return (page, errors);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.CloseAsync().ConfigureAwait(false);
        }

        _playwright?.Dispose();
    }
}
