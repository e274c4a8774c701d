using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using MQTTnet;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>The second session at an external broker exists only while somebody looks at the list.</summary>
public sealed class ListeningLeaseTests
{
    private const string Connected = "as watch-listen";

    [Fact]
    public async Task Session_LivesAsLongAsSomebodyLooksAndEndsWithTheLease()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await StartAsync(mosquitto);
        var clock = new FakeTimeProvider(DateTimeOffset.UtcNow);
        await using var listening = Listening(service, clock);
        Assert.False(listening.IsOpen);
        listening.Look();
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch-listen 0 #", StringComparison.Ordinal), () => mosquitto.Log);

        // A page in the background of a phone looks a little late, and finds the session as it was.
        for (var look = 0; look < 3; look++)
        {
            clock.Advance(Service.Pipeline.Listening.Lease - TimeSpan.FromSeconds(1));
            await PublishAsync(mosquitto.Port, $"barn/float-{look}");
            await Eventually.TrueAsync(() => listening.Look().Any(topic => topic.Topic == $"barn/float-{look}"), "the topic is not heard");
        }

        Assert.Equal(1, Times(mosquitto.Log, Connected));
        clock.Advance(Service.Pipeline.Listening.Lease);
        await Eventually.TrueAsync(() => !listening.IsOpen, "the session outlived its lease");
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch-listen disconnected", StringComparison.Ordinal) || mosquitto.Log.Contains("watch-listen closed", StringComparison.Ordinal), () => mosquitto.Log);
        Assert.True(service.Broker.IsUp);

        // Clean: what was sent meanwhile is not kept for it, and the next look begins anew.
        await PublishAsync(mosquitto.Port, "barn/meanwhile");
        listening.Look();
        await Eventually.TrueAsync(() => Times(mosquitto.Log, Connected) == 2, () => mosquitto.Log);
        await PublishAsync(mosquitto.Port, "barn/afterwards");
        await Eventually.TrueAsync(() => listening.Look().Any(topic => topic.Topic == "barn/afterwards"), "the topic is not heard");
        Assert.Equal(["barn/afterwards"], listening.Look().Select(topic => topic.Topic));
    }

    [Fact]
    public async Task FloodOfTopics_IsCappedAndTheRepeatingSensorStays()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await StartAsync(mosquitto);
        await using var listening = Listening(service, TimeProvider.System);
        listening.Look();
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch-listen 0 #", StringComparison.Ordinal), () => mosquitto.Log);
        using var flood = new MqttClientFactory().CreateMqttClient();
        await flood.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", mosquitto.Port).Build(), TestContext.Current.CancellationToken);
        for (var i = 0; i < 3; i++)
        {
            await flood.PublishStringAsync("barn/float-2", "1.048", cancellationToken: TestContext.Current.CancellationToken);
        }

        for (var i = 0; i < 450; i++)
        {
            await flood.PublishStringAsync($"street/{i}", "1", cancellationToken: TestContext.Current.CancellationToken);
        }

        await Eventually.TrueAsync(() => listening.Look().Any(topic => topic.Topic == "street/449"), "the last topic is not heard");

        var heard = listening.Look();
        Assert.Equal(UnmappedTopics.Capacity, heard.Count);
        Assert.Equal(3, heard.Single(topic => topic.Topic == "barn/float-2").Count);
    }

    [Fact]
    public async Task NarrowerScope_IsSubscribedToAtOnceAndAWrongOneIsNamed()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await StartAsync(mosquitto);
        using var visitor = new Visitor(service.Page);
        await visitor.Client.GetStringAsync("listening", TestContext.Current.CancellationToken);

        using var wrong = await visitor.SendAsync("listening", "listening/scope", ("filter", "barn/#/x"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        Assert.Contains("‘barn/#/x’ is no topic filter", WebUtility.HtmlDecode(await wrong.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), StringComparison.Ordinal);

        using var right = await visitor.SendAsync("listening", "listening/scope", ("filter", "barn/#"));
        Assert.Equal(HttpStatusCode.Redirect, right.StatusCode);
        await visitor.Client.GetStringAsync("listening", TestContext.Current.CancellationToken);
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch-listen 0 barn/#", StringComparison.Ordinal), () => mosquitto.Log);
        await PublishAsync(mosquitto.Port, "street/x");
        await PublishAsync(mosquitto.Port, "barn/x");
        var listening = service.Services.GetRequiredService<Listening>();
        await Eventually.TrueAsync(() => listening.Look().Count > 0, "the topic is not heard");
        Assert.Equal(["barn/x"], listening.Look().Select(topic => topic.Topic));
        Assert.Equal("barn/#", new ListeningScope(service.Store).Filter.Text);
    }

    private static Task<RunningService> StartAsync(Mosquitto mosquitto) => RunningService.StartAsync(file => file["Broker"] = new JsonObject
    {
        ["Mode"] = "external",
        ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = mosquitto.Port, ["ClientId"] = "watch" },
    });

    private static Listening Listening(RunningService service, TimeProvider clock) => new(
        service.Broker,
        service.Services.GetRequiredService<MappingBook>(),
        service.Services.GetRequiredService<ListeningScope>(),
        service.Services.GetRequiredService<Store>(),
        clock,
        NullLogger<Listening>.Instance);

    private static int Times(string text, string part) => text.Split(part).Length - 1;

    private static async Task PublishAsync(int port, string topic)
    {
        var (exit, complaint) = await Mosquitto.PublishAsync(port, "-q", "1", "-t", topic, "-m", "1.048");
        Assert.True(exit == 0, complaint);
    }
}
