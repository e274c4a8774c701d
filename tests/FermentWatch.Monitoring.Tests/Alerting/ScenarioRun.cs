using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Inhibitions;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>Lives through a scenario tick by tick: readings arrive, a view is made, a pass steps, the outbox sends.</summary>
public sealed class ScenarioRun(AlertScenario scenario, bool restartsBetweenPasses, bool throughTheWholeView = false, string? withoutInhibition = null)
{
    private readonly AlertSettings _settings = AlertSettings.Default with
    {
        Channels = ValueList.Of<string>("relay"),
        Only = ValueList.Of<string>(scenario.Rules),
        Inhibitions = ValueList.Of(InhibitionCatalog.All.Where(line => line.Id != withoutInhibition)),
    };

    private readonly List<OutboxDraft> _waiting = [];
    private readonly HashSet<string> _keys = [];
    private AlertSet _set = AlertSet.Empty;

    public List<ExpectedNotice> Sent { get; } = [];

    public List<OutboxDraft> Drafts { get; } = [];

    public AlertSet Set => _set;

    public ScenarioRun Live()
    {
        var last = TimeSpan.Zero;
        for (var at = TimeSpan.Zero; at <= scenario.Until; at += scenario.Tick)
        {
            if (scenario.Down.Any(down => at >= down.From && at < down.Until))
            {
                last = at + scenario.Tick; // It begins to listen when it runs again.
                continue;
            }

            Send(at);
            var isLost = scenario.BrokerLost.Exists(lost => at > lost.From && at <= lost.Until);
            var pass = new Pass(ReceivedAt.From(Wall(at)), at > last && !isLost ? at - last : TimeSpan.Zero, scenario.Zone) { IsBrokerLost = isLost };
            Acknowledge(last, at, pass);
            var view = View(at);
            var result = Alerts.Step(_set, view, _settings, pass);
            var plan = NoticePlan.For(view, result, _settings, pass);
            _waiting.RemoveAll(draft => plan.Canceled.Contains(draft.Key));
            foreach (var draft in plan.Drafts)
            {
                Assert.True(_keys.Add(draft.Key), $"The key {draft.Key} was used twice.");
                _waiting.Add(draft);
                Drafts.Add(draft);
            }

            // What waits for the digest makes no notice of its own.
            Sent.AddRange(plan.Ledger.Listeners[0].Digest.Select(line => new ExpectedNotice(at, "digest-" + line.Rule)));
            _set = restartsBetweenPasses ? AlertJson.ReadSet(AlertJson.Write(result.Now)) : result.Now;
            last = at;
        }

        Send(scenario.Until);
        return this;
    }

    private void Send(TimeSpan at)
    {
        foreach (var draft in _waiting.Where(draft => draft.NextAttemptAt.ToDateTimeOffset() <= Wall(at)).ToList())
        {
            _waiting.Remove(draft);
            Sent.Add(new ExpectedNotice(draft.NextAttemptAt.ToDateTimeOffset() - Wall(at) + at, draft.Title.Code));
        }
    }

    private void Acknowledge(TimeSpan last, TimeSpan at, Pass pass)
    {
        if (scenario.Acknowledged.Any(when => when > last && when <= at))
        {
            foreach (var alert in _set.Alerts)
            {
                _set = _set.Acknowledge(alert.Key, pass.Now);
            }
        }
    }

    private DateTimeOffset Wall(TimeSpan at) =>
        scenario.Start + at + scenario.Jumps.Where(jump => jump.At <= at).Aggregate(TimeSpan.Zero, (sum, jump) => sum + jump.Jump);

    /// <summary>When a message that arrives then is read: at once, or when the service runs again.</summary>
    private TimeSpan ReadAt(TimeSpan arrives) =>
        scenario.Down.Where(down => arrives >= down.From && arrives < down.Until).Select(down => (TimeSpan?)down.Until).FirstOrDefault() ?? arrives;

    private Reading Fact(ScenarioReading reading)
    {
        var received = Wall(ReadAt(reading.ArrivesAt));
        EventTime? stamp = reading.IsStamped ? EventTime.From(scenario.Start + reading.TakenAt) : null;
        return new Reading(
            stamp ?? EventTime.From(received), reading.Sequence, stamp, ReceivedAt.From(received), reading.Value, reading.Value, ClockTrusted: true);
    }

    private BatchView View(TimeSpan at)
    {
        var now = EventTime.From(Wall(at));
        var series = scenario.Readings
            .Where(reading => ReadAt(reading.ArrivesAt) <= at)
            .GroupBy(reading => new SeriesKey(reading.Sensor, reading.Quantity))
            .Select(group => new SeriesReadings(group.Key, [.. group.Select(Fact)]))
            .ToList();
        var batch = BatchViews.Batch("quince-mead", "Quince mead", scenario.Band, scenario.Sensors) with
        {
            Kind = scenario.Kind,
            OriginalGravity = scenario.OriginalGravity,
            Tolerance = scenario.Tolerances.Where(told => told.From <= at).Select(told => (AlcoholByVolume?)told.Tolerance).LastOrDefault(),
        };
        if (throughTheWholeView || scenario.NeedsTheWholeView)
        {
            // An entry is a fact from the moment at which it is written on.
            var journal = scenario.Journal.Where(entry => entry.At <= EventTime.From(Wall(at))).ToList();
            return BatchAnalysis.View(
                new BatchFacts(batch with { InoculatedAt = EventTime.From(scenario.Start) }, journal, series) { Work = [.. scenario.Work.Where(span => span.From <= now)] },
                ViewSettings.Default with { Alerts = _settings },
                PriorSnapshot.Shipped,
                now);
        }

        return BatchViews.Of("quince-mead", "Quince mead", scenario.Band, scenario.Sensors, scenario.Readings.Select(reading => new SeriesKey(reading.Sensor, reading.Quantity)).Distinct(), series, _settings, now);
    }
}
