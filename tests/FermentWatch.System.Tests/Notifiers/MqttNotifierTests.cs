using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using MQTTnet;
using MQTTnet.Protocol;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Notices at a real broker: the usual one, and the one inside the service.</summary>
public sealed class MqttNotifierTests
{
    private static readonly NoticeMessage Notice = new("sloe/temperature-band/float/1", "Sloe wine: 27.8 °C, limit 25 °C", "Ventilate first.", Severity.Warning, Silent: false, new Uri("https://cellar.example/batch/sloe"))
    {
        Acts = ValueList.Of(new NoticeAct("on-it", "On it", new Uri("https://cellar.example/act/quiet-4711"))),
    };

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BrokerElsewhere_HearsEachNoticeAndKeepsTheNewestOfABatch()
    {
        await using var broker = await Mosquitto.StartAsync();
        var notifier = new MqttNotifier(() => new ExternalBrokerOptions { Host = "127.0.0.1", Port = broker.Port, ClientId = "post" }, TimeProvider.System);

        // Nobody is there yet: the broker says so, and the test of the channel with it.
        Assert.Equal("mqtt-nobody", Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice, Stop)).Remark?.Code);

        await using var listener = await Listener.StartAsync(broker.Port);
        await Eventually.TrueAsync(() => listener.Heard.Count == 1, "the retained notice did not come");
        Assert.Null(Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice with { Title = "Sloe wine: 28.4 °C, limit 25 °C" }, Stop)).Remark);
        await Eventually.TrueAsync(() => listener.Heard.Count == 3, () => string.Join('\n', listener.Heard));

        Assert.Equal(("fermentwatch/notices/batch/sloe", true), (listener.Heard[0].Topic, listener.Heard[0].Retained));
        Assert.Equal([("fermentwatch/notices/all", false), ("fermentwatch/notices/batch/sloe", false)], listener.Heard.Skip(1).Select(one => (one.Topic, one.Retained)).Order());
        using var body = JsonDocument.Parse(listener.Heard[1].Payload);
        Assert.Equal((Notice.Key, "Sloe wine: 28.4 °C, limit 25 °C", "warning"), (body.RootElement.GetProperty("key").GetString(), body.RootElement.GetProperty("title").GetString(), body.RootElement.GetProperty("severity").GetString()));
        Assert.All(listener.Heard, one => Assert.DoesNotContain("quiet-4711", one.Payload, StringComparison.Ordinal));
    }

    [Fact]
    public async Task BrokerThatIsNotThere_IsTriedAgain()
    {
        var closed = FreePort.Take();
        var notifier = new MqttNotifier(() => new ExternalBrokerOptions { Host = "127.0.0.1", Port = closed, ClientId = "post" }, TimeProvider.System);
        Assert.Equal("mqtt-failing", Assert.IsType<DeliveryResult.TryAgain>(await notifier.DeliverAsync(Notice, Stop)).Because.Code);
        Assert.Equal("mqtt-down", Assert.IsType<DeliveryResult.TryAgain>(await new MqttNotifier(() => null, TimeProvider.System).DeliverAsync(Notice, Stop)).Because.Code);
    }

    [Theory]
    [InlineData("sloe/temperature-band/float/1", "fermentwatch/notices/batch/sloe")]
    [InlineData("a+b#c/x", "fermentwatch/notices/batch/a-b-c")]
    [InlineData("/x", "fermentwatch/notices/batch/-")]
    public void BatchTopic_HoldsNothingThatMqttGivesAMeaning(string key, string topic) => Assert.Equal(topic, MqttNotifier.BatchTopic(key));

    [Fact]
    public async Task BrokerInside_PassesTheTestOnAndCountsItAsNoReading()
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Broker"]!["Notices"] = true;
            file["Topics"] = new JsonArray(RunningService.Topic("#", "all", null, (null, "temperature", "°C")));
        });
        await using var listener = await Listener.StartAsync(service.BrokerPort);
        using var maker = await Visitor.FirstMakerAsync(service);
        using var sent = await maker.SendAsync("channels", "channels", ("channel", "mqtt"));
        var page = await maker.Client.GetStringAsync("channels", Stop);
        Assert.Contains("the channel took it", page, StringComparison.Ordinal);
        Assert.Contains("MQTT topics", page, StringComparison.Ordinal);
        await Eventually.TrueAsync(() => listener.Heard.Count == 2, () => string.Join('\n', listener.Heard));
        Assert.Equal(0, service.Store.ReadCounts().ReadingsStored);
        Assert.DoesNotContain("fermentwatch/notices", await maker.Client.GetStringAsync("listening", Stop), StringComparison.Ordinal);
    }

    private sealed class Listener : IAsyncDisposable
    {
        private readonly IMqttClient _client = new MqttClientFactory().CreateMqttClient();

        public List<(string Topic, bool Retained, string Payload)> Heard { get; } = [];

        public static async Task<Listener> StartAsync(int port)
        {
            var listener = new Listener();
            listener._client.ApplicationMessageReceivedAsync += args =>
            {
                var message = args.ApplicationMessage;
                lock (listener.Heard)
                {
                    listener.Heard.Add((message.Topic, message.Retain, message.ConvertPayloadToString()));
                }

                return Task.CompletedTask;
            };
            await listener._client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build(), Stop);
            await listener._client.SubscribeAsync("fermentwatch/notices/#", MqttQualityOfServiceLevel.AtLeastOnce, Stop);
            return listener;
        }

        public async ValueTask DisposeAsync()
        {
            await _client.DisconnectAsync(cancellationToken: Stop);
            _client.Dispose();
        }
    }
}
