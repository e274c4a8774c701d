using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>The broker is chosen on the page, tried before it is kept, and in use at once.</summary>
public sealed class BrokerPageTests(Browser browser) : IClassFixture<Browser>
{
    private const string Password = "siphon bramble 47";

    private static readonly LocatorAssertionsToContainTextOptions Patient = new() { Timeout = 60000 };

    [Fact]
    public async Task ExternalBroker_IsTriedKeptAndInUseWithoutARestartAndGivenUpAgain()
    {
        await using var broker = await LockedAsync();
        await using var talker = new Talker(broker.Port, "-u", "maker", "-P", Password);
        await using var service = await RunningService.StartAsync(file =>
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/float-2", "float-2", null, (null, "gravity", "SG"))));
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(service.Page, "settings").ToString());
        await page.GetByRole(AriaRole.Link, new() { Name = "Broker" }).ClickAsync();
        await PhonePage.CheckAsync(page, "broker");

        await page.GetByLabel("Host").FillAsync("127.0.0.1");
        await page.GetByLabel("Port").FillAsync(broker.Port.ToString(CultureInfo.InvariantCulture));
        await page.GetByLabel("User").FillAsync("maker");
        await page.GetByLabel("Password").FillAsync("guess");
        await page.GetByRole(AriaRole.Button, new() { Name = "Try it, then keep it" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("The broker does not let user ‘maker’ in: the name or the password is wrong", Patient);
        await Assertions.Expect(page.GetByLabel("Host")).ToHaveValueAsync("127.0.0.1");
        await Assertions.Expect(page.GetByLabel("Password")).ToHaveValueAsync("");
        await PhonePage.CheckAsync(page, "broker-fault");
        Assert.Equal(BrokerMode.Embedded, service.Services.GetRequiredService<BrokerChoice>().Now.Mode);

        await page.GetByLabel("Password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Try it, then keep it" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("messages are coming", Patient);
        await PhonePage.CheckAsync(page, "broker-kept");
        Assert.DoesNotContain(Password, await page.ContentAsync(), StringComparison.Ordinal);
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"{service.Broker.State}");
        await Eventually.TrueAsync(() => service.Store.ReadReadings(Gravity, default, new EventTime(long.MaxValue)).Count > 0, "no reading came over the new broker");
        Assert.False(Mosquitto.Answers(service.BrokerPort), "the embedded broker still listens");

        // Nothing but the encrypted password lies in the data directory, and it is read again at the next start.
        Assert.DoesNotContain(Password, service.Store.ReadProperties("broker")["broker"], StringComparison.Ordinal);
        var again = new BrokerChoice(
            service.Services.GetRequiredService<BrokerSettings>(), new ServiceIdentity(IsDemo: false), service.Store, service.Services.GetRequiredService<IDataProtectionProvider>());
        Assert.Equal((Password, broker.Port), (again.Now.External!.Password, again.Now.External.Port));
        var strange = new BrokerChoice(service.Services.GetRequiredService<BrokerSettings>(), new ServiceIdentity(IsDemo: false), service.Store, new EphemeralDataProtectionProvider());
        Assert.True(strange.IsPasswordLost);

        await page.GetByRole(AriaRole.Button, new() { Name = "Use our own broker again" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("Our own broker is in use from now on", Patient);
        Assert.True(Mosquitto.Answers(service.BrokerPort));
        Assert.False(service.Store.ReadProperties("broker").ContainsKey("broker"));
        // The answer with the fault is a 422, which the browser notes by itself.
        Assert.DoesNotContain(errors, error => !error.Contains("422", StringComparison.Ordinal));
    }

    [Fact]
    public async Task SilentBrokerWithAPrivateAuthority_IsKeptWithANote()
    {
        using var authority = new TestAuthority();
        var pem = "";
        await using var broker = await Mosquitto.StartAsync(
            persistence: false,
            folder =>
            {
                var lines = authority.WriteFiles(folder);
                pem = File.ReadAllText(Path.Combine(folder, "ca.pem"));
                return lines;
            },
            "allow_anonymous true");
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);

        Assert.Contains("paste its certificate below", await FaultAsync(visitor, Fields(broker.Port, ("tls", "yes"))), StringComparison.Ordinal);
        Assert.Contains("no encrypted connection came about", await FaultAsync(visitor, Fields(PortWithoutTls(service), ("tls", "yes"))), StringComparison.OrdinalIgnoreCase);
        using var kept = await visitor.SendAsync("broker", "broker/external", Fields(broker.Port, ("tls", "yes"), ("authority", pem)));
        Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);
        var html = await visitor.Client.GetStringAsync(kept.Headers.Location, TestContext.Current.CancellationToken);
        Assert.Contains("no message came in 5 s", html, StringComparison.Ordinal);
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"{service.Broker.State}");
    }

    [Theory]
    [InlineData("host", "", "The host is empty")]
    [InlineData("host", "mqtt://broker.lan:1883", "write a name or an address alone")]
    [InlineData("port", "70000", "The port is ‘70000’")]
    [InlineData("port", "-1", "The port is ‘-1’")]
    [InlineData("password", "must", "A password is given, but no user")]
    [InlineData("authority", "not a certificate", "No certificate can be read")]
    [InlineData("host", "broker.invalid", "Check the spelling")]
    public async Task FaultyField_IsNamedWithWhatWouldBeRightAndNothingIsChanged(string field, string value, string said)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);

        var html = await FaultAsync(visitor, [.. Fields(FreePort.Take(), ("tls", "yes")).Where(one => one.Name != field), (field, value)]);

        Assert.Contains(said, html, StringComparison.Ordinal);
        Assert.Equal(BrokerMode.Embedded, service.Services.GetRequiredService<BrokerChoice>().Now.Mode);
    }

    [Fact]
    public async Task KeptPassword_IsNotSentToAnotherPlace()
    {
        await using var broker = await LockedAsync();
        await using var talker = new Talker(broker.Port, "-u", "maker", "-P", Password);
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        using var kept = await visitor.SendAsync("broker", "broker/external", Fields(broker.Port, ("user", "maker"), ("password", Password)));
        Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);

        Assert.Contains("type the password again", await FaultAsync(visitor, Fields(FreePort.Take(), ("user", "maker"), ("password", ""))), StringComparison.Ordinal);
        using var same = await visitor.SendAsync("broker", "broker/external", Fields(broker.Port, ("user", "maker"), ("password", "")));
        Assert.Equal(HttpStatusCode.Redirect, same.StatusCode);
        Assert.Equal(Password, service.Services.GetRequiredService<BrokerChoice>().Now.External!.Password);
    }

    [Fact]
    public async Task BrokerOfTheConfiguration_WinsAndThePageSaysSo()
    {
        await using var service = await RunningService.StartAsync(file => file["Broker"]!["Mode"] = "embedded");
        using var visitor = new Visitor(service.Page);

        var html = await visitor.Client.GetStringAsync("broker", TestContext.Current.CancellationToken);
        Assert.Contains("it wins over this page", html, StringComparison.Ordinal);
        Assert.DoesNotContain("name=\"host\"", html, StringComparison.Ordinal);
        using var answer = await visitor.SendAsync("start", "broker/external", Fields(FreePort.Take()));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.NotEqual(BrokerMode.External, service.Services.GetRequiredService<BrokerChoice>().Now.Mode);
    }

    [Fact]
    public async Task BrokerOnEveryAddress_IsToldByAddressesThatAnswer()
    {
        await using var service = await RunningService.StartAsync(file => file["Broker"]!["Embedded"]!["Address"] = "0.0.0.0");
        using var visitor = new Visitor(service.Page);

        var html = await visitor.Client.GetStringAsync("connect", TestContext.Current.CancellationToken);

        Assert.DoesNotContain("0.0.0.0", html, StringComparison.Ordinal);
        var hosts = ReachableAddresses.Of(IPAddress.Any);
        Assert.NotEmpty(hosts);
        foreach (var host in hosts)
        {
            Assert.Contains(host, html, StringComparison.Ordinal);
            using var client = new global::System.Net.Sockets.TcpClient();
            await client.ConnectAsync(host, service.BrokerPort, TestContext.Current.CancellationToken);
        }
    }

    private static SeriesKey Gravity => new(new SensorId("float-2"), QuantityKind.Gravity);

    // Any port on which something other than TLS answers: our own broker.
    private static int PortWithoutTls(RunningService service) => service.BrokerPort;

    private static (string Name, string Value)[] Fields(int port, params (string Name, string Value)[] more) =>
        [("host", "127.0.0.1"), ("port", port.ToString(CultureInfo.InvariantCulture)), .. more];

    private static async Task<string> FaultAsync(Visitor visitor, (string Name, string Value)[] fields)
    {
        using var answer = await visitor.SendAsync("broker", "broker/external", fields);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private static Task<Mosquitto> LockedAsync() => Mosquitto.StartAsync(
        persistence: false,
        folder =>
        {
            Mosquitto.WritePassword(Path.Combine(folder, "people"), "maker", Password);
            return [];
        },
        "allow_anonymous false",
        "password_file {folder}/people");
}
