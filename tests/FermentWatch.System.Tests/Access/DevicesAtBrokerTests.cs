using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Devices at the embedded broker, through mosquitto_pub, and over HTTP.</summary>
public sealed class DevicesAtBrokerTests
{
    [Fact]
    public async Task BrokerThatNeedsDevices_OnlyAKeyGetsInAndOnlyToItsTopics()
    {
        await using var service = await RunningService.StartAsync(file => file["Topics"] = new global::System.Text.Json.Nodes.JsonArray(
            RunningService.Topic("cellar/+/gravity", "carboy {1}", null, (null, "gravity", "SG"))));
        using var maker = await Visitor.FirstMakerAsync(service);
        Assert.Equal(0, await PublishAsync(service, "cellar/open/gravity", "1.091"));

        var key = await AddDeviceAsync(maker, "float", "cellar/oak");
        Assert.Equal(0, await PublishAsync(service, "cellar/open/gravity", "1.092"));
        Assert.NotEqual(0, await PublishAsync(service, "cellar/oak/gravity", "1.060", "-u", "float", "-P", "wrong"));
        using (await maker.SendAsync("devices", "devices", ("do", "require"), ("needed", "yes")))
        {
            Assert.NotEqual(0, await PublishAsync(service, "cellar/open/gravity", "1.093"));
        }

        Assert.NotEqual(0, await PublishAsync(service, "cellar/oak/gravity", "1.061", "-u", "nobody", "-P", key));
        Assert.Equal(0, await PublishAsync(service, "cellar/oak/gravity", "1.062", "-u", "float", "-P", key));
        Assert.NotEqual(0, await PublishAsync(service, "cellar/elm/gravity", "1.063", "-u", "float", "-P", key));
        Assert.NotEqual(0, await PublishAsync(service, "cellar/oakum/gravity", "1.064", "-u", "float", "-P", key));

        var id = service.Store.ReadDevices().Single().Id.ToString(global::System.Globalization.CultureInfo.InvariantCulture);
        using (await maker.SendAsync("devices", "devices", ("do", "remove"), ("id", id)))
        {
            Assert.NotEqual(0, await PublishAsync(service, "cellar/oak/gravity", "1.065", "-u", "float", "-P", key));
        }

        await Eventually.TrueAsync(() => service.Store.ReadSeries().Sum(one => one.Readings) >= 3, "three readings were let in");
        Assert.Equal(
            ["carboy oak 1", "carboy open 2"],
            service.Store.ReadSeries().Select(one => $"{one.Series.Sensor} {one.Readings}").Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task ReadingsOverHttp_AreRecordedOnceHoweverOftenSent()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var key = await AddDeviceAsync(maker, "float-1", "");
        const string Body = """
            {"sensor":"tilted","readings":[
              {"time":"2026-03-14T09:26:53+01:00","quantity":"gravity","unit":"°P","value":12.0},
              {"time":"2026-03-14T09:26:53+01:00","quantity":"temperature","unit":"F","value":68}]}
            """;
        for (var time = 0; time < 3; time++)
        {
            using var answer = await PostAsync(service, key, Body);
            Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);
            Assert.Equal(2 * (time + 1), Recorded(service));
        }

        await Eventually.TrueAsync(() => service.Store.ReadUndecoded().Messages.Count == 0, "all are decoded");
        var at = EventTime.From(new DateTimeOffset(2026, 3, 14, 8, 26, 53, TimeSpan.Zero));
        var gravity = service.Store.ReadReadings(new SeriesKey(new SensorId("float-1/tilted"), QuantityKind.Gravity), at - TimeSpan.FromDays(1), at + TimeSpan.FromDays(1));
        var temperature = service.Store.ReadReadings(new SeriesKey(new SensorId("float-1/tilted"), QuantityKind.Temperature), at - TimeSpan.FromDays(1), at + TimeSpan.FromDays(1));

        // 12 °Plato is 1.04838 (table of the American Society of Brewing Chemists, from memory).
        Assert.InRange(Assert.Single(gravity).Value, 1.0482, 1.0486);
        Assert.Equal(20, Assert.Single(temperature).Value, 9);
        Assert.Equal(at, gravity[0].At);
    }

    [Theory]
    [InlineData("""{"readings":[{"quantity":"gravity","unit":"°C","value":20}]}""", "#/readings/0/unit", "'SG'")]
    [InlineData("""{"readings":[{"quantity":"gravity","unit":"SG","value":1012}]}""", "#/readings/0/value", "0.9")]
    [InlineData("""{"readings":[{"quantity":"gravity","unit":"SG","value":"1.012"}]}""", "#/readings/0/value", "number")]
    [InlineData("""{"readings":[{"quantity":"sweetness","unit":"SG","value":1.012}]}""", "#/readings/0/quantity", "'gravity'")]
    [InlineData("""{"readings":[{"time":"2026-03-14T09:26","quantity":"gravity","unit":"SG","value":1.012}]}""", "#/readings/0/time", "offset")]
    [InlineData("""{"readings":[{"quantity":"gravity","unit":"SG","value":1.01},{"quantity":"gravity","unit":"SG","value":1.02}]}""", "#/readings/1/time", "own time")]
    [InlineData("""{"readings":[]}""", "#/readings", "1 to 500")]
    [InlineData("""{"sensor":"a/b","readings":[{"quantity":"gravity","unit":"SG","value":1.01}]}""", "#/sensor", "without /")]
    [InlineData("""{"device":"x","readings":[{"quantity":"gravity","unit":"SG","value":1.01}]}""", "#/device", "'sensor'")]
    [InlineData("[1]", "#", "object")]
    public async Task FaultyField_IsNamedWithWhatWouldBeRightAndNothingIsRecorded(string body, string place, string right)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var key = await AddDeviceAsync(maker, "float-1", "");
        using var answer = await PostAsync(service, key, body);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        using var problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        var error = problem.RootElement.GetProperty("errors").EnumerateArray().First(one => one.GetProperty("pointer").GetString() == place);
        Assert.Contains(right, error.GetProperty("detail").GetString(), StringComparison.Ordinal);
        Assert.Equal(0, Recorded(service));
    }

    [Fact]
    public async Task UnknownKeyBrokenOrLargeBody_HasAnAnswerOfItsOwn()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var key = await AddDeviceAsync(maker, "float-1", "");
        const string Good = """{"readings":[{"quantity":"gravity","unit":"SG","value":1.05}]}""";
        Assert.Equal(HttpStatusCode.Unauthorized, (await PostAsync(service, "no-such-key", Good)).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await PostAsync(service, "", Good)).StatusCode);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await PostAsync(service, key, Good + new string(' ', 70_000))).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await PostAsync(service, key, "{\"readings\":[")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await PostAsync(service, key, "{\"sensor\":\"\\ud83c\",\"readings\":[]}")).StatusCode);
        Assert.Equal(HttpStatusCode.Accepted, (await PostAsync(service, key, Good)).StatusCode);
    }

    [Fact]
    public async Task FullDisk_Answers503AndRecordsNothing()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var key = await AddDeviceAsync(maker, "float-1", "");
        service.Store.MaximumPages = 1;
        await service.Store.ApplyMaximumPagesAsync(TestContext.Current.CancellationToken);
        var readings = string.Join(",", Enumerable.Range(0, 300).Select(minute =>
            $$"""{"time":"2026-03-14T{{minute / 60:00}}:{{minute % 60:00}}:00Z","quantity":"gravity","unit":"SG","value":1.05}"""));
        using var answer = await PostAsync(service, key, $$"""{"readings":[{{readings}}]}""");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Equal(0, Recorded(service));
    }

    private static long Recorded(RunningService service) => service.Store.ReadCounts() is var counts ? counts.Waiting + counts.Messages.Values.Sum() : 0;

    private static async Task<string> AddDeviceAsync(Visitor maker, string name, string prefix)
    {
        using var answer = await maker.SendAsync("devices", "devices", ("do", "add"), ("name", name), ("prefix", prefix));
        return Visitor.Made(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private static async Task<HttpResponseMessage> PostAsync(RunningService service, string key, string body)
    {
        using var client = new HttpClient();
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(service.Page, "api/v1/readings")) { Content = new StringContent(body, Encoding.UTF8, "application/json") };
        request.Headers.Authorization = key.Length == 0 ? null : new AuthenticationHeaderValue("Bearer", key);
        return await client.SendAsync(request, TestContext.Current.CancellationToken);
    }

    private static async Task<int> PublishAsync(RunningService service, string topic, string payload, params string[] more) =>
        (await Mosquitto.PublishAsync(service.BrokerPort, ["-q", "1", "-t", topic, "-m", payload, .. more])).ExitCode;
}
