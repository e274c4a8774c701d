using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Service.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Set-up, sign-in, people and devices on a phone, from an empty data directory.</summary>
public sealed class SignInBrowserTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task FromAnEmptyDataDirectory_SetUpSignInInviteAndEndOnAPhone()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "settings").ToString());
        await Link(page, "People").ClickAsync();
        await CheckAsync(page);
        await page.GetByLabel("Set-up code").FillAsync(service.Services.GetRequiredService<SetUpCode>().Text);
        await page.GetByLabel("Name").FillAsync("Ada");
        await page.GetByLabel("Password").FillAsync("password1234");
        await Button(page, "Set the password").ClickAsync();
        await Assertions.Expect(page.Locator(".fault")).ToContainTextAsync("guessed first");
        await Assertions.Expect(page.GetByLabel("Name")).ToHaveValueAsync("Ada");
        await CheckAsync(page);
        await page.GetByLabel("Password").FillAsync(Visitor.Password);
        await Button(page, "Set the password").ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(service.Page.ToString());

        await page.GotoAsync(new Uri(service.Page, "account").ToString());
        await CheckAsync(page);
        await Button(page, "Sign out").ClickAsync();
        await page.GotoAsync(new Uri(service.Page, "alerts").ToString());
        await page.GetByLabel("Name").FillAsync("ada");
        await page.GetByLabel("Password").FillAsync("not the right one");
        await Button(page, "Sign in").ClickAsync();
        await Assertions.Expect(page.Locator(".fault")).ToContainTextAsync("do not belong together");
        await CheckAsync(page);
        await page.GetByLabel("Password").FillAsync(Visitor.Password);
        await Button(page, "Sign in").ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Uri(service.Page, "alerts").ToString());

        await page.GotoAsync(new Uri(service.Page, "people").ToString());
        await page.GetByLabel("Name", new PageGetByLabelOptions { Exact = true }).FillAsync("Vic");
        await Button(page, "Make a link").ClickAsync();
        var link = await page.Locator("#made").InnerTextAsync();
        await CheckAsync(page);

        var (phone, _) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await phone.GotoAsync(link);
        await CheckAsync(phone);
        await phone.GetByLabel("Password").FillAsync(Visitor.Password);
        await Button(phone, "Set the password").ClickAsync();
        await Assertions.Expect(phone.Locator("nav.tabs")).ToBeVisibleAsync();
        await phone.GotoAsync(new Uri(service.Page, "devices").ToString());
        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("For makers");
        await CheckAsync(phone);

        await page.GotoAsync(new Uri(service.Page, "people").ToString());
        await Button(page, "End Vic").ClickAsync();
        await Assertions.Expect(Button(page, "End Vic")).ToHaveCountAsync(0);
        await phone.GotoAsync(new Uri(service.Page, "alerts").ToString());
        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("Sign in");

        await page.GotoAsync(new Uri(service.Page, "devices").ToString());
        await page.GetByLabel("Name").FillAsync("Float 1");
        await Button(page, "Add the device").ClickAsync();
        await Assertions.Expect(page.Locator(".fault").First).ToContainTextAsync("float-1");
        await page.GetByLabel("Name").FillAsync("float-1");
        await page.GetByLabel("Topic").FillAsync("cellar/oak");
        await Button(page, "Add the device").ClickAsync();
        await Assertions.Expect(page.Locator("#made")).ToHaveTextAsync(new global::System.Text.RegularExpressions.Regex("^[a-z2-9]{32}$"));
        await CheckAsync(page);

        // Forms with a fault are answers 422, which the browser notes by itself.
        errors.RemoveAll(error => error.Contains("422", StringComparison.Ordinal));
        Assert.Empty(errors);
    }

    private static ILocator Link(IPage page, string name) => page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = name, Exact = true });

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = name, Exact = true });

    private static async Task CheckAsync(IPage page)
    {
        var aside = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Assert.True(aside == 0, $"{page.Url} scrolls sideways by {aside} px.");
        var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
        await page.SetViewportSizeAsync(390, Math.Max(844, whole));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, $"{page.Url}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
        Assert.True(found.Passes.Length > 5, $"{page.Url}: only {found.Passes.Length} rules looked at anything.");
        await page.SetViewportSizeAsync(390, 844);
    }
}
