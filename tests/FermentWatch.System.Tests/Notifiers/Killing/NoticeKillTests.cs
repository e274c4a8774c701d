using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Mqtt.Killing;
using Microsoft.Data.Sqlite;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers.Killing;

/// <summary>
/// SIGKILL at random moments while an alert is about to be raised, waits, is on its way or was just sent. Each vessel gets dangerously hot
/// once; afterwards each was told of, and none more often than kills explain.
/// </summary>
/// <remarks>Ten kills; FERMENTWATCH_NOTICE_KILLS sets another number, FERMENTWATCH_CAMPAIGN_SEED the seed.</remarks>
public sealed class NoticeKillTests(ITestOutputHelper output)
{
    private static readonly TimeSpan LongestEnd = TimeSpan.FromMinutes(4);

    private static int Kills => Number("FERMENTWATCH_NOTICE_KILLS", 10);

    private static int Seed => Number("FERMENTWATCH_CAMPAIGN_SEED", 1);

    [Fact]
    public async Task KilledWhileNoticesAreOnTheirWay_LosesNoneAndRepeatsAtMostOneAKill()
    {
        var (seed, random, port) = (Seed, new Random(Seed), FreePort.Take());
        // Slow to answer, so that kills fall between the receiver's yes and our note of it.
        await using var receiver = await RelayReceiver.StartAsync(async (context, count) =>
        {
            await Task.Delay((count * 37) % 150, TestContext.Current.CancellationToken);
            context.Response.StatusCode = 200;
        });
        await using var service = new ServiceProcess(Configuration(receiver.Topic), "--broker-port", $"{port}");
        service.Start();
        var kills = 0;
        for (var kill = 0; kill < Kills; kill++)
        {
            await service.ComesUpAsync();
            await HeatAsync(port, kill);
            await Task.Delay(random.Next(0, 4500), TestContext.Current.CancellationToken);
            service.Kill();
            kills++;
            service.Start();
            // One kill in four falls into the start itself.
            if (random.Next(4) == 0)
            {
                await Task.Delay(random.Next(0, 1500), TestContext.Current.CancellationToken);
                service.Kill();
                kills++;
                service.Start();
            }
        }

        await service.ComesUpAsync();
        var expected = Enumerable.Range(0, Kills).Select(number => $"v{number}/temperature-danger/s{number}/1").ToList();
        await Eventually.TrueAsync(
            () => expected.TrueForAll(Received(receiver).ContainsKey) && Waiting(service) == 0,
            () => $"seed {seed}: never told of {string.Join(", ", expected.Where(key => !Received(receiver).ContainsKey(key)))}; {Waiting(service)} wait. {service.Output}",
            LongestEnd);
        Assert.Equal(0, await service.StopAsync());
        var received = Received(receiver);
        var twice = received.Values.Sum(count => count - 1);
        output.WriteLine($"seed {seed}, {Kills} vessels, {kills} kills: {received.Count} alerts told, lost 0, {twice} told twice");
        Assert.True(received.Keys.All(expected.Contains), $"seed {seed}: told of {string.Join(", ", received.Keys.Except(expected))}");
        Assert.True(twice <= kills, $"seed {seed}: {twice} told twice by {kills} kills");
    }

    /// <summary>A quarter of an hour of 34 °C, with the sensor's own times: an urgent alert, exempt from every limit.</summary>
    private static async Task HeatAsync(int port, int number)
    {
        for (var minute = 20; minute >= 0; minute -= 5)
        {
            var at = DateTimeOffset.UtcNow.AddMinutes(-minute).ToUnixTimeMilliseconds();
            var payload = string.Create(CultureInfo.InvariantCulture, $"{{\"celsius\":34.0,\"at\":{at}}}");
            // The page is up a little before the broker is.
            var (exit, complaint) = (1, "");
            for (var attempt = 0; exit != 0 && attempt < 300; attempt++)
            {
                (exit, complaint) = await Mosquitto.PublishAsync(port, "-q", "1", "-t", $"cellar/s{number}/state", "-m", payload);
                await Task.Delay(exit == 0 ? 0 : 100, TestContext.Current.CancellationToken);
            }

            Assert.True(exit == 0, complaint);
        }
    }

    /// <summary>How often each thread was told of. The body's names are those of the default template.</summary>
    private static Dictionary<string, int> Received(RelayReceiver receiver) => receiver.Requests
        .Select(request => JsonDocument.Parse(request.Body).RootElement.GetProperty("notice").GetString()!)
        .CountBy(key => key)
        .ToDictionary(StringComparer.Ordinal);

    private static long Waiting(ServiceProcess service)
    {
        using var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = Directory.GetFiles(service.DataDirectory, "*.db").Single(),
            Mode = SqliteOpenMode.ReadOnly,
            Pooling = false,
        }.ToString());
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT count(*) FROM outbox WHERE state = 1";
        return (long)command.ExecuteScalar()!;
    }

    private static string Configuration(Uri relay) => new JsonObject
    {
        ["Relay"] = new JsonObject { ["Url"] = relay.AbsoluteUri },
        ["Outgoing"] = new JsonObject { ["Networks"] = "this-machine" },
        ["Alerts"] = new JsonObject { ["GroupWaitSeconds"] = 2 },
        ["Topics"] = JsonNode.Parse("""
            [{ "Sensor": "{1}", "Filter": "cellar/+/state", "Fields": [{ "Pointer": "/celsius", "Quantity": "temperature", "Unit": "°C" }],
               "Time": { "Pointer": "/at", "Format": "unix-milliseconds" } }]
            """),
        ["Batches"] = new JsonArray([.. Enumerable.Range(0, Kills).Select(number => new JsonObject
        {
            ["Id"] = $"v{number}",
            ["Name"] = $"Vessel {number}",
            ["Kind"] = "wine",
            ["VolumeLiters"] = 10,
            ["Inoculated"] = DateTimeOffset.UtcNow.AddDays(-2).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            ["OriginalGravity"] = 1.090,
            ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = $"s{number}" }),
        })]),
    }.ToJsonString();

    private static int Number(string variable, int otherwise) =>
        int.TryParse(Environment.GetEnvironmentVariable(variable), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : otherwise;
}
