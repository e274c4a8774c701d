using System.IO.Compression;
using System.Text.Json.Nodes;
using FermentWatch.Service.Care;
using FermentWatch.Service.Commands;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Xunit;

namespace FermentWatch.System.Tests.Care;

/// <summary>Secrets and names are planted everywhere; none may be in the ZIP.</summary>
public sealed class DiagnosticsTests
{
    private const string Canary = "canary7a";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Bundle_HoldsWhatHelpsAndNoCanary()
    {
        await using var service = await RunningService.StartAsync(Planted);
        using var maker = await Visitor.FirstMakerAsync(service, "Canary7a Ada");
        using var device = await maker.SendAsync("devices", "devices", ("do", "add"), ("name", Canary + "-device"));
        var key = Visitor.Made(await device.Content.ReadAsStringAsync(Stop));
        await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-u", Canary + "-device", "-P", key, "-t", Canary + "-device/sg", "-m", Canary + " payload");
        await Eventually.TrueAsync(() => service.Store.ReadCounts().FieldsRejected == 1, "the message is read");
        // A mistake of ours: a secret in a line of the log.
        service.Services.GetRequiredService<ILoggerFactory>().CreateLogger("Test").LogWarning("The token {Token} was said", Canary + "-relay-token");

        using var answer = await maker.SendAsync("care", "care/diagnostics");

        Assert.Equal("application/zip", answer.Content.Headers.ContentType?.MediaType);
        var files = Unpacked(await answer.Content.ReadAsByteArrayAsync(Stop));
        Assert.Equal(["about.json", "settings.json", "database.json", "health.json", "log.txt"], files.Keys);
        foreach (var (name, text) in files)
        {
            Assert.False(text.Contains(Canary, StringComparison.OrdinalIgnoreCase), $"{name} holds a canary: {text}");
            Assert.DoesNotContain(Visitor.Password, text, StringComparison.Ordinal);
            Assert.DoesNotContain(key, text, StringComparison.Ordinal);
            Assert.All(service.Store.ReadPeople(), person => Assert.DoesNotContain(person.Name, text, StringComparison.Ordinal));
        }

        var settings = JsonNode.Parse(files["settings.json"])!.AsArray();
        Assert.Contains(settings, setting => (string?)setting!["key"] == "Relay:Token" && (string?)setting["value"] == "(given, not told)");
        Assert.Contains(settings, setting => (string?)setting!["key"] == "Page:Zone" && (string?)setting["value"] == "UTC");
        Assert.Equal(1, (int)JsonNode.Parse(files["database.json"])!["Rows"]!["person"]!);
        Assert.Contains("The token (secret) was said", files["log.txt"], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Command_WritesTheSameBesideTheRunningServiceAndNeverOverAFile()
    {
        await using var service = await RunningService.StartAsync(Planted);
        var path = Path.Combine(service.Folder, "bundle.zip");

        Assert.Equal(0, await DiagnosticsCommand.Build().Parse(["--data", service.Folder, "--to", path]).InvokeAsync(cancellationToken: Stop));

        var files = Unpacked(await File.ReadAllBytesAsync(path, Stop));
        Assert.Equal(["about.json", "settings.json", "database.json", "log.txt"], files.Keys);
        Assert.All(files.Values, text => Assert.DoesNotContain(Canary, text, StringComparison.OrdinalIgnoreCase));
        Assert.Equal(DiagnosticsCommand.Refused, await DiagnosticsCommand.Build().Parse(["--data", service.Folder, "--to", path]).InvokeAsync(cancellationToken: Stop));
    }

    [Fact]
    public void RecentLog_KeepsTheNewestLinesAndEachOnOne()
    {
        using var log = new RecentLog();
        var logger = log.CreateLogger("Part");
        for (var i = 0; i < RecentLog.Kept + 10; i++)
        {
            logger.LogInformation("line {Number}\nforged", i);
        }

        Assert.Equal(RecentLog.Kept, log.Lines.Count);
        Assert.EndsWith("Information Part: line 10 forged", log.Lines[0], StringComparison.Ordinal);
    }

    private static void Planted(JsonObject file)
    {
        file["Relay"] = new JsonObject
        {
            ["Url"] = $"http://127.0.0.1:9/{Canary}-topic",
            ["Token"] = Canary + "-relay-token",
            ["Template"] = $$"""{"key":"{{Canary}}","message":"{text}"}""",
        };
        file["Mail"] = new JsonObject
        {
            ["Host"] = "127.0.0.1",
            ["Port"] = 9,
            ["From"] = Canary + "@example.org",
            ["To"] = Canary + "-to@example.org",
            ["User"] = Canary + "-user",
            ["Password"] = Canary + " mail password",
        };
        file["Influx"] = new JsonObject { ["Url"] = $"http://127.0.0.1:9/?token={Canary}", ["Token"] = Canary + "-influx" };
        file["Metrics"] = new JsonObject { ["Token"] = Canary + "-metrics" };
        file["Topics"] = new JsonArray(RunningService.Topic("+/sg", "float", null, (null, "gravity", "SG")));
        file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z"));
    }

    private static Dictionary<string, string> Unpacked(byte[] bytes)
    {
        using var zip = new ZipArchive(new MemoryStream(bytes));
        return zip.Entries.ToDictionary(entry => entry.FullName, entry =>
        {
            using var reader = new StreamReader(entry.Open());
            return reader.ReadToEnd();
        });
    }
}
