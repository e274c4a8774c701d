using System.Globalization;
using System.Net;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using FermentWatch.Simulation.Demo;
using MQTTnet;
using MQTTnet.Protocol;

namespace FermentWatch.Service.Demo;

/// <summary>Publishes the demo's cellar over MQTT as its sensors would: the history as fast as the service takes it in, then live.</summary>
internal sealed class DemoPublisher(IPEndPoint broker, DemoClock clock, DateTimeOffset now, double speed, Store store, PipelineSignals signals, ILogger log)
{
    /// <summary>Publishes until the cellar's samples end or <paramref name="stop"/> is cancelled.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        var happenings = Happenings();
        using var client = new MqttClientFactory().CreateMqttClient();
        var options = new MqttClientOptionsBuilder()
            .WithTcpServer(broker.Address.ToString(), broker.Port)
            .WithClientId("low-barn-cellar")
            .WithCleanStart()
            .Build();
        await client.ConnectAsync(options, stop);
        var history = happenings.TakeWhile(happening => happening.At <= now).Count();
        log.LogInformation("Publishing {Count} messages of history", happenings.Take(history).Count(happening => happening.Message is not null));
        for (var i = 0; i < history; i++)
        {
            clock.MoveTo(happenings[i].At);
            await HappenAsync(client, happenings[i], stop);
        }

        clock.MoveTo(now);
        clock.Run(speed);
        log.LogInformation("The history is in; from here on the demo's clock runs at {Speed} times real time", speed.ToString(CultureInfo.InvariantCulture));
        foreach (var happening in happenings.Skip(history))
        {
            var wait = (happening.At - clock.GetUtcNow()) / speed;
            if (wait > TimeSpan.Zero)
            {
                await Task.Delay(wait, stop);
            }

            await HappenAsync(client, happening, stop);
        }

        log.LogInformation("The demo's ferments have come to the end of their samples; the sensors fall silent");
    }

    /// <summary>Everything that happens in the cellar, in order of time.</summary>
    private List<Happening> Happenings()
    {
        var all = new List<Happening>();
        foreach (var vessel in DemoCellar.Vessels)
        {
            var batch = new BatchId(vessel.BatchKey);
            all.AddRange(vessel.Journal.Select(line =>
                new Happening(DemoSetup.InoculatedAt(vessel, now).AddHours(line.HoursSinceInoculation), batch, null, line)));
            if (DemoSetup.PlanOf(vessel, now) is { } plan)
            {
                all.Add(new Happening(plan.At.ToDateTimeOffset(), batch, null, null) { Plan = plan });
            }

            all.AddRange(vessel.Samples.SelectMany(sample => vessel.Render(sample, now)
                .Select(message => new Happening(now.AddHours(sample.HoursFromNow), batch, message, null))));
        }

        // Stable, so that messages of one sample keep their order.
        return [.. all.OrderBy(happening => happening.At)];
    }

    private async Task HappenAsync(IMqttClient client, Happening happening, CancellationToken stop)
    {
        if (happening.Line is { } line)
        {
            var draft = new JournalDraft(DemoSetup.KindOf(line.Kind), EventTime.From(happening.At), line.Text);
            var key = string.Create(CultureInfo.InvariantCulture, $"demo/{happening.Batch}/{line.HoursSinceInoculation}");
            await store.AppendJournalAsync(happening.Batch, draft, key, stop);
            signals.Touch([happening.Batch]);
            return;
        }

        if (happening.Plan is { } plan)
        {
            await store.AppendJournalAsync(happening.Batch, plan, $"demo/{happening.Batch}/plan", stop);
            signals.Touch([happening.Batch]);
            return;
        }

        var message = happening.Message!;
        await client.PublishAsync(
            new MqttApplicationMessageBuilder()
                .WithTopic(message.Topic)
                .WithPayload(message.Payload.ToArray())
                .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .Build(),
            stop);
    }

    private sealed record Happening(DateTimeOffset At, BatchId Batch, DemoMessage? Message, DemoJournalLine? Line)
    {
        public JournalDraft? Plan { get; init; }
    }
}
