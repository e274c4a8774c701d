using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.Service.Configuration;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Mqtt.Killing;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>The real service as a process: what it prints, and where it agrees to listen.</summary>
public sealed partial class StartTests
{
    [Fact]
    public async Task BeyondThisMachine_OnlyOnceSomebodyHasAPasswordSetWithThePrintedCode()
    {
        var broker = FreePort.Take();
        await using var service = new ServiceProcess("{}", "--broker-port", $"{broker}");
        service.Start();
        await service.ComesUpAsync();
        await Eventually.TrueAsync(() => Code().IsMatch(service.Output), () => "the set-up code is printed. " + service.Output);
        var code = Code().Match(service.Output).Groups[1].Value;
        Assert.DoesNotContain(service.Output.Split('\n'), line => line.Contains(code, StringComparison.Ordinal) && line.Contains("info:", StringComparison.Ordinal));
        using (var visitor = new Visitor(new Uri(Page().Match(service.Output).Value + "/")))
        {
            using var answer = await visitor.SendAsync("setup", "setup", ("code", code), ("name", "Ada"), ("password", Visitor.Password));
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        }

        Assert.DoesNotContain(Visitor.Password, service.Output, StringComparison.Ordinal);
        await service.StopAsync();

        await File.WriteAllTextAsync(
            Path.Combine(service.DataDirectory, SettingsLoader.FileName), """{ "Broker": { "Embedded": { "Address": "0.0.0.0" } } }""", TestContext.Current.CancellationToken);
        service.Start();
        await service.ComesUpAsync();
        Assert.DoesNotMatch(Code(), service.Output);
        Assert.NotEqual(0, (await Mosquitto.PublishAsync(broker, "-q", "1", "-t", "a", "-m", "1")).ExitCode);
        await service.StopAsync();
    }

    [Theory]
    [InlineData("""{ "Page": { "Address": "http://0.0.0.0:5080" } }""", "Page:Address")]
    [InlineData("""{ "Broker": { "Embedded": { "Address": "0.0.0.0" } } }""", "Broker:Embedded:Address")]
    public async Task NobodyHasAPassword_RefusesToListenBeyondThisMachineAndSaysWhy(string file, string key)
    {
        using var data = new Configuration.TemporaryDataDirectory(file);
        var start = new ProcessStartInfo(
            Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet",
            [Path.Combine(AppContext.BaseDirectory, "fermentwatch.dll"), "--data", data.Location, "--broker-port", $"{FreePort.Take()}"])
        {
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var said = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(2, process.ExitCode);
        Assert.Contains(key, said, StringComparison.Ordinal);
        Assert.Contains("/setup", said, StringComparison.Ordinal);
    }

    [GeneratedRegex("set-up code is ([A-Z2-9]{5}-[A-Z2-9]{5})")]
    private static partial Regex Code();

    [GeneratedRegex(@"http://127\.0\.0\.1:[1-9][0-9]*")]
    private static partial Regex Page();
}
