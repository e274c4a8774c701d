using System.Globalization;
using System.Net;
using FermentWatch.Service.Commands;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Mqtt.Killing;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Two ways to a new password: a maker's link, and the command of whoever owns the machine.</summary>
public sealed class LostPasswordTests
{
    private const string Other = "kettle meadow violin";

    private static readonly Dictionary<string, string?> Environment = [];

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task MakersLink_SetsANewPasswordOnceAndEndsEverySignIn()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        var id = service.Store.FindPerson("Vic")!.Id.ToString(CultureInfo.InvariantCulture);
        using var made = await maker.SendAsync("people", "people", ("do", "renew"), ("id", id));
        var link = Visitor.Made(await made.Content.ReadAsStringAsync(Stop));
        // The old password counts until the link is used.
        Assert.Equal(HttpStatusCode.OK, (await viewer.GetAsync("alerts")).StatusCode);
        using var owner = new Visitor(service.Page);
        using var set = await owner.SendAsync(link, link, ("password", Other));
        Assert.Equal(HttpStatusCode.Redirect, set.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await owner.GetAsync("alerts")).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await viewer.GetAsync("alerts")).StatusCode);
        using var old = await viewer.SendAsync("sign-in", "sign-in", ("name", "Vic"), ("password", Visitor.Password));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, old.StatusCode);
        Assert.Contains("used, is too old or never was", await owner.Client.GetStringAsync(link, Stop), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await maker.GetAsync("alerts")).StatusCode);
    }

    [Fact]
    public async Task CommandOnTheMachine_LetsTheLastMakerInAgain()
    {
        await using var service = new ServiceProcess("{}", "--broker-port", $"{FreePort.Take()}");
        service.Start();
        await service.ComesUpAsync();
        await Eventually.TrueAsync(() => service.Output.Contains("set-up code is", StringComparison.Ordinal), () => service.Output);
        using var before = new Visitor(RootOf(service));
        using (await before.SendAsync("setup", "setup", ("code", service.Output.Split("set-up code is ")[1].Split('\n')[0].Trim()), ("name", "Ada"), ("password", Visitor.Password)))
        {
            Assert.Equal(HttpStatusCode.OK, (await before.GetAsync("people")).StatusCode);
        }

        var running = await RunAsync("Ada", service.DataDirectory);
        Assert.False(running.IsDone);
        Assert.Contains("Stop the service first", running.Text, StringComparison.Ordinal);
        await service.StopAsync();

        var unknown = await RunAsync("Eve", service.DataDirectory);
        Assert.Equal((false, true), (unknown.IsDone, unknown.Text.Contains("People: Ada", StringComparison.Ordinal)));
        var (text, isDone) = await RunAsync("ada", service.DataDirectory);
        Assert.True(isDone, text);
        Assert.Contains("within 60 minutes", text, StringComparison.Ordinal);
        service.Start();
        await service.ComesUpAsync();
        var link = new Uri(RootOf(service), "invitation/" + text.Split("/invitation/")[1].Split(' ')[0]).ToString();
        using var owner = new Visitor(RootOf(service));
        using var set = await owner.SendAsync(link, link, ("password", Other));
        Assert.Equal(HttpStatusCode.OK, (await owner.GetAsync("people")).StatusCode);
        using var stale = new Visitor(RootOf(service));
        stale.Cookies.Add(before.Cookies.GetCookies(RootOf(service)));
        Assert.Equal(HttpStatusCode.Redirect, (await stale.GetAsync("people")).StatusCode);
        await service.StopAsync();
    }

    [Fact]
    public async Task DirectoryWithoutData_IsSaidAndNothingIsMade()
    {
        var directory = Storage.StoreOnDisk.NewDirectory();
        var (text, isDone) = await RunAsync("Ada", directory);
        Assert.False(isDone);
        Assert.Contains(directory, text, StringComparison.Ordinal);
        Assert.False(Directory.Exists(directory));
    }

    private static Task<(string Text, bool IsDone)> RunAsync(string name, string directory) =>
        ResetPasswordCommand.RunAsync(name, directory, Environment, TimeProvider.System, Stop);

    private static Uri RootOf(ServiceProcess service) => new(service.Output.Split("The page is at ")[1].Split(',')[0].TrimEnd('/') + "/");
}
