using System.Globalization;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt.Killing;

/// <summary>
/// SIGKILL at random moments under load. Half of the devices send bare numbers without a time, half speak MQTT 3.1.1;
/// each keeps its own list of acknowledgements. Afterwards every acknowledged message is stored exactly once.
/// </summary>
/// <remarks>Five kills a broker; FERMENTWATCH_KILLS sets another number, FERMENTWATCH_CAMPAIGN_SEED the seed.</remarks>
public sealed class KillTests(ITestOutputHelper output)
{
    private const string Topics = """
        "Topics": [
          { "Sensor": "{1}", "Filter": "cellar/+/sg", "Fields": [{ "Quantity": "gravity", "Unit": "SG" }] },
          { "Sensor": "{1}", "Filter": "cellar/+/state", "Fields": [{ "Pointer": "/sg", "Quantity": "gravity", "Unit": "SG" }],
            "Time": { "Pointer": "/at", "Format": "unix-milliseconds" } }
        ]
        """;

    private static readonly TimeSpan LongestEnd = TimeSpan.FromMinutes(3);

    private static int Kills => Number("FERMENTWATCH_KILLS", 5);

    private static int Seed => Number("FERMENTWATCH_CAMPAIGN_SEED", 1);

    [Fact]
    public async Task KilledUnderLoadOfTheEmbeddedBroker_StoresEveryAcknowledgedMessageOnce()
    {
        var port = FreePort.Take();
        await using var service = new ServiceProcess($$"""{ {{Topics}} }""", "--broker-port", $"{port}");
        await RunAsync(service, port);
    }

    [Fact]
    public async Task KilledUnderLoadOfAnExternalBroker_StoresEveryAcknowledgedMessageOnce()
    {
        await using var broker = await Mosquitto.StartAsync();
        var external = $$""" "Broker": { "Mode": "external", "External": { "Host": "127.0.0.1", "Port": {{broker.Port}} } } """;
        await using var service = new ServiceProcess($$"""{ {{external}}, {{Topics}} }""");

        // The broker keeps messages for a subscriber that it knows, so the service introduces itself first.
        service.Start();
        await Eventually.TrueAsync(() => broker.Log.Contains("'fermentwatch/", StringComparison.Ordinal), () => service.Output + broker.Log);
        await RunAsync(service, broker.Port);
        var again = broker.Log.Split('\n').Count(line => line.Contains("Sending PUBLISH to fermentwatch-", StringComparison.Ordinal) && line.Contains("(d1,", StringComparison.Ordinal));
        output.WriteLine($"{again} sent again by the broker");
    }

    private static int Number(string variable, int otherwise) =>
        int.TryParse(Environment.GetEnvironmentVariable(variable), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : otherwise;

    private static async Task KillAsync(ServiceProcess service, Random random)
    {
        // One kill in four falls into the start itself.
        if (random.Next(4) == 0)
        {
            await Task.Delay(random.Next(0, 1500), TestContext.Current.CancellationToken);
        }
        else
        {
            await service.ComesUpAsync();
            await Task.Delay(random.Next(0, 1500), TestContext.Current.CancellationToken);
        }

        service.Kill();
    }

    private static List<LoadDevice> Devices(int port, int seed)
    {
        List<LoadDevice> devices = [];
        foreach (var manner in new[] { DeviceManner.BareRising, DeviceManner.BareRepeating, DeviceManner.Timed, DeviceManner.Timed })
        {
            foreach (var version in new[] { 4, 5 })
            {
                devices.Add(new LoadDevice($"{manner}-{version}-{devices.Count}".ToLowerInvariant(), version, manner, port, seed + devices.Count));
            }
        }

        return devices;
    }

    private async Task RunAsync(ServiceProcess service, int port)
    {
        var seed = Seed;
        var random = new Random(seed);
        using var stopSending = new CancellationTokenSource();
        using var giveUp = new CancellationTokenSource();
        var devices = Devices(port, seed);
        var sending = Task.WhenAll(devices.Select(device => device.RunAsync(stopSending.Token, giveUp.Token)));
        for (var kill = 0; kill < Kills; kill++)
        {
            if (service.HasExited)
            {
                service.Start();
            }

            await KillAsync(service, random);
        }

        service.Start();
        await service.ComesUpAsync();
        await stopSending.CancelAsync();
        giveUp.CancelAfter(LongestEnd);
        await sending;
        var acknowledged = devices.Sum(device => device.Acknowledged.Count());
        var stored = new StoredReadings(service.DataDirectory);
        await Eventually.TrueAsync(() => stored.Count() >= acknowledged, () => $"seed {seed}: {acknowledged} readings stored, but there are {stored.Count()}. {service.Output}", LongestEnd);
        var exitCode = await service.StopAsync();
        Assert.True(exitCode == 0, $"seed {seed}: exit code {exitCode}. {service.Output}");
        output.WriteLine($"seed {seed}, {Kills} kills: {acknowledged} acknowledged, {stored.Count()} stored, {devices.Sum(device => device.Publisher.Redelivered)} sent again by devices");
        Compare(devices, stored, seed);
        foreach (var device in devices)
        {
            await device.DisposeAsync();
        }
    }

    private static void Compare(List<LoadDevice> devices, StoredReadings stored, int seed)
    {
        Assert.Equal("ok", stored.Integrity());
        var bySensor = stored.BySensor();
        foreach (var device in devices)
        {
            var readings = bySensor[device.Name];
            var sent = device.Sent.CountBy(value => value).ToDictionary(StringComparer.Ordinal);
            var acknowledged = device.Acknowledged.CountBy(value => value).ToDictionary(StringComparer.Ordinal);
            Assert.True(acknowledged.Values.Sum() > 0, $"seed {seed}: {device.Name} sent nothing");
            var lost = acknowledged.Where(pair => readings.GetValueOrDefault(pair.Key) < pair.Value).ToList();
            var doubled = readings.Where(pair => pair.Value > sent.GetValueOrDefault(pair.Key)).ToList();
            Assert.True(lost.Count == 0, $"seed {seed}: {device.Name} lost {string.Join(", ", lost.Take(10))}");
            Assert.True(doubled.Count == 0, $"seed {seed}: {device.Name} has too many of {string.Join(", ", doubled.Take(10))}");
        }
    }
}
