using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.Service.Commands;
using FermentWatch.Service.Configuration;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Influx;

/// <summary>The command and the service over a server that takes the writes as they are.</summary>
public sealed class CopyCommandTests
{
    [Fact]
    public async Task Copy_TakesWhatIsFromTheDayOnBesideAnOpenStore()
    {
        await using var server = await VictoriaServer.StartAsync();
        await using var disk = Open();
        await CopiedStore.FillAsync(disk, 1, 3 * 24 * 60);
        await File.WriteAllTextAsync(Path.Combine(disk.Options.DataDirectory, SettingsLoader.FileName), Settings(server).ToJsonString(), Stop);

        Assert.Equal(0, await CopyCommand.Build().Parse(["--from", "2026-03-02", "--data", disk.Options.DataDirectory]).InvokeAsync(cancellationToken: Stop));

        // The store begins on 1 March at 8:00 and holds three days; 16 hours of them lie before the day.
        await SamplesAsync(server, 2 * ((3 * 24 * 60) - (16 * 60)));
    }

    [Theory]
    [InlineData("yesterday")]
    [InlineData("2026-13-01")]
    public async Task DateThatIsNone_IsRefused(string date) =>
        Assert.Equal(CopyCommand.Refused, await CopyCommand.Build().Parse(["--from", date]).InvokeAsync(cancellationToken: Stop));

    [Fact]
    public async Task CopyWithoutTargetOrData_IsRefused()
    {
        await using var disk = Open();
        Assert.Equal(CopyCommand.Refused, await CopyCommand.Build().Parse(["--from", "2026-03-02", "--data", disk.Options.DataDirectory]).InvokeAsync(cancellationToken: Stop));
        Assert.Equal(
            CopyCommand.Refused,
            await CopyCommand.Build().Parse(["--from", "2026-03-02", "--data", NewDirectory(), "--set", "Influx:Url=http://127.0.0.1:1"]).InvokeAsync(cancellationToken: Stop));
    }

    [Fact]
    public async Task PublishedReading_IsInTheCopyOfTheRunningService()
    {
        await using var server = await VictoriaServer.StartAsync();
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Influx"] = Settings(server)["Influx"]!.DeepClone();
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/carboy3", "carboy3", null, (null, "gravity", "SG")));
        });

        Assert.Equal(0, (await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/carboy3", "-m", "1.0421")).ExitCode);

        await SamplesAsync(server, 1);
        Assert.NotEmpty(await server.ExportAsync($"{PointNames.Ingest}_readings{{site=\"attic\"}}"));
    }

    private static async Task SamplesAsync(VictoriaServer server, int expected)
    {
        var found = 0;
        await Eventually.TrueAsync(
            () => (found = server.ExportAsync($"{PointNames.Reading}_value{{site=\"attic\"}}").GetAwaiter().GetResult().Sum(series => series.Samples.Count)) >= expected,
            () => $"{expected} points are searchable; {found} are");
        Assert.Equal(expected, found);
    }

    private static JsonObject Settings(VictoriaServer server) =>
        new() { ["Influx"] = new JsonObject { ["Url"] = server.Url.ToString(), ["Site"] = "attic" } };
}
