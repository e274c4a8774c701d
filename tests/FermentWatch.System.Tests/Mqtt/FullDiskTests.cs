using System.Globalization;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.System.Tests.Storage;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Brokers over the real store, whose database reaches a limit of pages: the error of a full disk from the real engine.</summary>
public sealed class FullDiskTests
{
    private const int Messages = 100;

    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    public async Task EmbeddedBroker_AcknowledgesNothingThatIsNotStoredAndResumes(int version)
    {
        await using var disk = StoreOnDisk.Open();
        var port = FreePort.Take();
        await using var broker = new EmbeddedBroker(
            new EmbeddedBrokerOptions { Port = port }, InboxProbe.Interest("cellar/#"), disk.Store.RecordAsync, disk.Store.ConfirmAcknowledgedAsync,
            TimeProvider.System, NullLogger.Instance);
        await broker.StartAsync(TestContext.Current.CancellationToken);
        await using var device = new RawPublisher("pail", version, port);
        Assert.True(await device.TryConnectAsync());
        await FillAsync(disk);

        for (var i = 0; i < Messages; i++)
        {
            await device.PublishAsync("cellar/x", Payload(i));
        }

        await Eventually.TrueAsync(() => !device.Connected, "the broker closes the connection when the disk is full");
        Assert.InRange(device.Acknowledged.Count, 0, Messages - 1);
        Assert.Equal(device.Acknowledged.Count, disk.Number("SELECT count(*) FROM inbox"));

        disk.Store.MaximumPages = null;
        Assert.True(await device.TryConnectAsync());
        await Eventually.TrueAsync(() => device.Acknowledged.Count == Messages, "all are acknowledged in the end");
        Assert.Equal(Messages, disk.Number("SELECT count(*) FROM inbox"));
        Assert.Equal(Messages, disk.Number("SELECT count(DISTINCT payload) FROM inbox"));
    }

    [Fact]
    public async Task ExternalBroker_KeepsWhatIsNotStoredUntilItIs()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var disk = StoreOnDisk.Open();
        var client = new ExternalBrokerClient(
            ExternalFixture.Options(mosquitto.Port), InboxProbe.Interest("cellar/#"), disk.Store.RecordAsync, disk.Store.ConfirmAcknowledgedAsync,
            TimeProvider.System, NullLogger.Instance);
        using var stop = new CancellationTokenSource();
        var running = client.RunAsync(stop.Token);
        await Eventually.TrueAsync(() => client.Status.State == BrokerConnectionState.Connected, () => client.Status.ToString());
        await FillAsync(disk);
        await using var device = new RawPublisher("pail", 4, mosquitto.Port);
        Assert.True(await device.TryConnectAsync());
        for (var i = 0; i < Messages; i++)
        {
            await device.PublishAsync("cellar/x", Payload(i));
        }

        await Eventually.TrueAsync(() => client.Status.Problem?.Code == BrokerProblems.StorageUnavailable, () => client.Status.ToString());
        Assert.InRange(disk.Number("SELECT count(*) FROM inbox"), 0, Messages - 1);

        disk.Store.MaximumPages = null;
        await Eventually.TrueAsync(() => disk.Number("SELECT count(*) FROM inbox") >= Messages, () => client.Status.ToString());
        await stop.CancelAsync();
        await running;
        Assert.Equal(Messages, disk.Number("SELECT count(*) FROM inbox"));
        Assert.Equal(Messages, disk.Number("SELECT count(DISTINCT payload) FROM inbox"));
    }

    private static async Task FillAsync(StoreOnDisk disk)
    {
        disk.Store.MaximumPages = (int)disk.Number("PRAGMA page_count") + 20;
        await disk.Store.ApplyMaximumPagesAsync(TestContext.Current.CancellationToken);
    }

    private static string Payload(int number) => number.ToString(CultureInfo.InvariantCulture).PadLeft(4000, '0');
}
