using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Help;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;

namespace FermentWatch.Service.Pipeline;

/// <summary>Facts to view, view to alerts, alerts to the outbox, all to the board. One 'now' a pass; the store keeps a pass whole or not at all.</summary>
public sealed class MonitorLoop(
    Store store,
    BoardFiller board,
    BrokerLink broker,
    AlertSettings alerts,
    WishBook wishes,
    LimitBook limits,
    PriorBook priors,
    HelpBook help,
    ServiceStanding standing,
    PreferenceBook preferences,
    PipelineSignals signals,
    MonitorPace pace,
    TimeProvider clock,
    ILogger<MonitorLoop> logger)
    : SupervisedLoop(clock, logger)
{
    private readonly Dictionary<BatchId, WatchedBatch> _watched = [];
    private readonly ViewSettings _settings = ViewSettings.Default with { Alerts = alerts };
    private long? _listeningSince;
    private bool _isKept;
    private NoticeLedger _ledger = NoticeLedger.Empty;
    private ReceivedAt? _ledgerStoredAt;

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        // After a fault nothing is taken for granted.
        _watched.Clear();
        _ledger = store.ReadLedger() is { } stored ? AlertJson.ReadLedger(stored) : NoticeLedger.Empty;
        _ledgerStoredAt = _ledger.SeenAt;
        while (!stoppingToken.IsCancellationRequested)
        {
            var touched = signals.TakeTouched();
            if (!await PassAsync(touched, stoppingToken))
            {
                // A journal edit or an act on an alert overtook the pass: what was touched still is.
                signals.Touch(touched);
            }

            await Task.Delay(pace.Shortest, stoppingToken);
            await signals.Facts.WaitAsync(pace.Longest - pace.Shortest, stoppingToken);
        }
    }

    private async Task<bool> PassAsync(IReadOnlySet<BatchId> touched, CancellationToken stoppingToken)
    {
        var pass = NewPass();
        var settings = help.In(alerts with { QuietHours = preferences.Present.QuietHours, Personal = wishes.Listeners() });
        var now = EventTime.From(pass.Now.ToDateTimeOffset());
        var batches = new List<WatchedBatch>();
        var listed = store.ReadBatches();
        await priors.PrepareAsync(listed, _settings, now, stoppingToken);
        foreach (var batch in listed)
        {
            stoppingToken.ThrowIfCancellationRequested();
            var known = _watched.GetValueOrDefault(batch.Id);
            batches.Add(known is not null && !touched.Contains(batch.Id) && known.HoldsAt(now) ? known.At(now) : Look(batch.Id, known, now));
        }

        var results = Alerts.StepAll([.. batches.Select(batch => (batch.Alerts, batch.View))], settings, pass);
        var plan = NoticePlan.For([.. batches.Zip(results, (batch, result) => (batch.View, result))], settings, pass, _ledger, ServiceAlerts.Lasting(standing.Set, pass.Now));
        // The house's first: a row is canceled before another one takes its place.
        var house = PassRecords.OfHouse(plan, _ledger, _ledgerStoredAt, pass);
        var passes = batches.Zip(results, (batch, result) => PassRecords.Of(batch, result, plan, pass)).Prepend(house).OfType<PassResult>().ToList();
        if (passes.Count > 0 && !await store.CommitPassesAsync(passes, stoppingToken))
        {
            _watched.Clear();
            return false;
        }

        _ledger = plan.Ledger;
        _isKept |= pass.ClockTrusted;
        _ledgerStoredAt = house?.Ledger is null ? _ledgerStoredAt : pass.Now;
        _watched.Clear();
        foreach (var (batch, result) in batches.Zip(results))
        {
            _watched[batch.Id] = batch with { Alerts = result.Now, Recorded = batch.View.Forecast?.AsOf };
        }

        if (plan.Drafts.Count > 0)
        {
            signals.Outbox.Set();
        }

        board.Publish([.. batches.Select(batch => _watched[batch.Id])]);
        return true;
    }

    private WatchedBatch Look(BatchId id, WatchedBatch? known, EventTime now)
    {
        var snapshot = store.ReadBatch(id) ?? throw new InvalidOperationException($"Batch {id} is listed and cannot be read.");
        var stored = snapshot.AlertSet is { } json ? AlertJson.ReadSet(json) : AlertSet.Empty;
        // The set in memory is the stored one with its running timers further on; what people said meanwhile is on disk alone.
        var set = known?.Alerts.WithActsOf(stored) ?? stored;
        var view = BatchAnalysis.View(snapshot.Facts with { Batch = snapshot.Facts.Batch with { Limits = limits.Of(id) } }, _settings, priors.Of(id), now, known?.View);
        return new WatchedBatch(id, snapshot.Revision, view, set, now, known?.Recorded);
    }

    /// <summary>Only time in which messages could reach us counts as listening: the rest is our own silence, not a sensor's.</summary>
    private Pass NewPass()
    {
        var ticks = Clock.GetTimestamp();
        var listening = _listeningSince is { } since ? Clock.GetElapsedTime(since, ticks) : TimeSpan.Zero;
        _listeningSince = broker.IsUp ? ticks : null;
        var now = Clock.GetUtcNow();
        return new Pass(ReceivedAt.From(now), listening, preferences.Present.Zone, now.Year >= EarliestTrustedYear)
        {
            IsBrokerLost = !broker.IsUp,
            IsFirst = !_isKept,
        };
    }

    // A board without a clock of its own starts in 1970 until the network tells it the time.
    internal const int EarliestTrustedYear = 2025;
}
