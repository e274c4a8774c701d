using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>The service below a path of a real nginx, with the lines of deploy/nginx.conf for its location.</summary>
public sealed class BehindNginxTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task BelowAPathOfNginx_StatusPageDoorAndInstallingWorkWithoutAScript()
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Page"]!["PathBase"] = "/ferment";
            file["Page"]!["TrustedProxies"] = "127.0.0.1";
        });
        await using var proxy = await Nginx.StartAsync(service.Page.Port);
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false });
        using var alive = await client.GetAsync(new Uri(proxy.Root, "healthz"), TestContext.Current.CancellationToken);
        Assert.Equal("alive", await alive.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        using var maker = await Visitor.FirstMakerAsync(service, path: "ferment/");

        // Through the door and to the page of the service's state, without a script.
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light, hasScript: false);
        await page.GotoAsync(new Uri(proxy.Root, "care").ToString());
        Assert.StartsWith(proxy.Root + "sign-in", page.Url, StringComparison.Ordinal);
        await page.GetByLabel("Name").FillAsync("Ada");
        await page.GetByLabel("Password").FillAsync(Visitor.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        Assert.Equal(new Uri(proxy.Root, "care").ToString(), page.Url);
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("backup");
        var style = await page.Locator("link[rel=stylesheet]").First.GetAttributeAsync("href");
        using var sheet = await client.GetAsync(new Uri(new Uri(page.Url), style!), TestContext.Current.CancellationToken);
        Assert.Equal("text/css", sheet.Content.Headers.ContentType!.MediaType);
        Assert.DoesNotContain(errors, error => !error.Contains("401", StringComparison.Ordinal) && !error.Contains("403", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Manifest_StartsAtTheRootOfThePagesAndItsIconsAreThere()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full(), "/cellar");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        var address = new Uri(new Uri(page.Url), await page.Locator("link[rel=manifest]").GetAttributeAsync("href"));
        using var answer = await site.Client.GetAsync(address, TestContext.Current.CancellationToken);
        Assert.Equal("application/manifest+json", answer.Content.Headers.ContentType!.MediaType);
        using var manifest = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Equal(site.Root, new Uri(address, manifest.RootElement.GetProperty("start_url").GetString()!));
        Assert.Equal(site.Root, new Uri(address, manifest.RootElement.GetProperty("scope").GetString()!));
        Assert.Equal("standalone", manifest.RootElement.GetProperty("display").GetString());
        foreach (var icon in manifest.RootElement.GetProperty("icons").EnumerateArray())
        {
            using var picture = await site.Client.GetAsync(new Uri(address, icon.GetProperty("src").GetString()!), TestContext.Current.CancellationToken);
            Assert.Equal(icon.GetProperty("type").GetString(), picture.Content.Headers.ContentType!.MediaType);
            var bytes = await picture.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
            if (icon.GetProperty("sizes").GetString() is { } sizes && sizes != "any")
            {
                // Width of a PNG: bytes 16 to 19, big-endian (ISO/IEC 15948, 11.2.2).
                Assert.Equal(int.Parse(sizes.Split('x')[0], CultureInfo.InvariantCulture), (bytes[16] << 24) | (bytes[17] << 16) | (bytes[18] << 8) | bytes[19]);
            }
        }

        // Both themes name the color of the page's own ground.
        foreach (var (scheme, color) in ((string, string)[])[("light", "rgb(246, 240, 226)"), ("dark", "rgb(16, 15, 13)")])
        {
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme == "light" ? ColorScheme.Light : ColorScheme.Dark });
            Assert.Equal(color, await page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor"));
        }

        Assert.Empty(errors);
    }
}

/// <summary>A real nginx on a free port, in a folder of its own.</summary>
internal sealed class Nginx : IAsyncDisposable
{
    private readonly Process _process;
    private readonly string _folder;

    private Nginx(Process process, string folder, int port) => (_process, _folder, Root) = (process, folder, new Uri($"http://127.0.0.1:{port}/ferment/"));

    public Uri Root { get; }

    public static async Task<Nginx> StartAsync(int behind)
    {
        var folder = Directory.CreateTempSubdirectory("fermentwatch-nginx-").FullName;
        var port = FreePort.Take();
        var location = await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "nginx.conf"), TestContext.Current.CancellationToken);
        // The location as it is shipped; only the port behind it is another.
        location = location[location.IndexOf("location /ferment/", StringComparison.Ordinal)..];
        location = location[..(location.IndexOf("\n    }", StringComparison.Ordinal) + 6)].Replace("127.0.0.1:5080", $"127.0.0.1:{behind}", StringComparison.Ordinal);
        var file = Path.Combine(folder, "nginx.conf");
        await File.WriteAllTextAsync(
            file,
            $"daemon off; pid {folder}/pid; error_log {folder}/error.log;\nevents {{}}\nhttp {{ access_log off; client_body_temp_path {folder}/b; proxy_temp_path {folder}/p; fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;\nserver {{ listen 127.0.0.1:{port};\n{location}\n}} }}\n",
            TestContext.Current.CancellationToken);
        var program = File.Exists("/usr/sbin/nginx") ? "/usr/sbin/nginx" : "nginx";
        var process = Process.Start(new ProcessStartInfo(program, ["-c", file, "-e", Path.Combine(folder, "error.log")]))!;
        await Eventually.TrueAsync(() => Mosquitto.Answers(port), "nginx does not answer");
        return new Nginx(process, folder, port);
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
        }

        await _process.WaitForExitAsync();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
