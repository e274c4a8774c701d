using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Service.Pipeline;

/// <summary>What a pass decided about a batch, in the form that the store keeps.</summary>
internal static class PassRecords
{
    // By so much an absence may seem to have begun too early.
    private static readonly TimeSpan LongestUnseen = TimeSpan.FromMinutes(5);

    /// <summary>The record, or null when there is nothing to keep.</summary>
    public static PassResult? Of(WatchedBatch batch, StepResult result, NoticePlan plan, Pass pass)
    {
        var outbox = plan.Drafts
            .Where(draft => draft.Batch == batch.Id)
            .Select(draft => new OutboxEntry(draft.Key, draft.Channel, AlertJson.Write(draft), draft.NextAttemptAt))
            .ToList();
        var forecast = batch.View.Forecast is { } made && made.AsOf != batch.Recorded ? Record(batch.View, made, result.Now, pass) : null;
        return result.MustStore || outbox.Count > 0 || forecast is not null
            ? new PassResult(batch.Id, batch.Revision, pass.Now, result.MustStore || outbox.Count > 0 ? AlertJson.Write(result.Now) : null, outbox, forecast)
            : null;
    }

    /// <summary>What the pass decided for the house: rows that are overtaken, and the ledger when it says more than that we still run.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="was">The ledger before.</param>
    /// <param name="storedAt">When the ledger on disk was seen last; null before the first.</param>
    /// <param name="pass">The present.</param>
    public static PassResult? OfHouse(NoticePlan plan, NoticeLedger was, ReceivedAt? storedAt, Pass pass)
    {
        var isNews = storedAt is not { } at || (pass.Now - at).Duration() >= LongestUnseen || plan.Ledger with { SeenAt = was.SeenAt } != was;
        // A digest of alerts of the service alone is about no batch.
        var outbox = plan.Drafts.Where(draft => draft.Batch == ServiceAlerts.NoBatch).Select(draft => new OutboxEntry(draft.Key, draft.Channel, AlertJson.Write(draft), draft.NextAttemptAt)).ToList();
        return isNews || plan.Canceled.Count > 0 || outbox.Count > 0
            ? new PassResult(null, 0, pass.Now, null, outbox, null) { Overtaken = plan.Canceled, Ledger = isNews ? AlertJson.Write(plan.Ledger) : null }
            : null;
    }

    private static ForecastRecord Record(BatchView view, GravityForecast forecast, AlertSet alerts, Pass pass) => new(
        forecast.AsOf,
        forecast.EngineVersion,
        forecast.Prior,
        pass.Now,
        JsonSerializer.Serialize(new
        {
            finalGravity = Numbers(forecast.FinalGravity, (SpecificGravity gravity) => Math.Round(gravity.Value, 5)),
            finish = Numbers(forecast.Finish, at => at?.ToString()),
            notYet = forecast.NotYet?.Code,
            phase = new { @is = view.Phase.Phase.ToString(), because = view.Phase.Because.Code, fallPerDay = view.Phase.RatePerDay },
            now = new
            {
                gravity = Rounded(view.LatestGravity?.Value.Value, 5),
                celsius = Rounded(view.LatestTemperature?.Value.Celsius, 3),
                alcoholPercent = Rounded(view.Alcohol?.Value.Percent, 3),
                sugarGramsPerLiter = Rounded(view.SugarLeft?.Value.GramsPerLiter, 2),
            },
            gates = GateKeeper.Of(GateFacts.Of(view, alerts, GateSettings.For(AlertSettings.Default.For(view.Batch.Limits), Law.Strictest))).Select(gate => new
            {
                gate = gate.Path is { } path ? $"{gate.Kind}-{path}" : gate.Kind.ToString(),
                met = gate.Met,
                of = gate.Conditions.Count,
            }),
        }));

    private static double? Rounded(double? value, int digits) => value is { } number ? Math.Round(number, digits) : null;

    private static object Numbers<T, TStored>(Quantiles<T> quantiles, Func<T, TStored> stored) => new
    {
        p05 = stored(quantiles.P05),
        p25 = stored(quantiles.P25),
        p50 = stored(quantiles.P50),
        p75 = stored(quantiles.P75),
        p95 = stored(quantiles.P95),
    };
}
