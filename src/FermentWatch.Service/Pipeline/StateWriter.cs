using System.Text.Json;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Service.Pipeline;

/// <summary>What is told about a batch at the broker: JSON with units in the names, and the odds with every forecast.</summary>
internal static class StateWriter
{
    /// <summary>Topics with their payload.</summary>
    public static IEnumerable<(string Topic, string Json)> Of(string site, BatchView view)
    {
        var batch = view.Batch.Id.Value;
        yield return (StateTopics.Of(site, batch, "phase"), JsonSerializer.Serialize(new
        {
            batch,
            name = view.Batch.Name,
            phase = view.Phase.Phase.ToString(),
            because = view.Phase.Because.Code,
            fall_points_per_day = view.Phase.RatePerDay is { } rate ? Math.Round(rate * 1000, 1) : (double?)null,
        }));
        if (view.Forecast is { } forecast)
        {
            yield return (StateTopics.Of(site, batch, "forecast"), JsonSerializer.Serialize(new
            {
                batch,
                name = view.Batch.Name,
                as_of = forecast.AsOf.ToString(),
                final_gravity_sg = Numbers(forecast.FinalGravity, gravity => Math.Round(gravity.Value, 4)),
                finish = Numbers(forecast.Finish, at => at?.ToString()),
                determined = forecast.NotYet is null,
                not_yet = forecast.NotYet?.Code,
                caution = "An estimate from gravity: measure by hand before stabilizing or bottling.",
            }));
        }
    }

    private static object Numbers<T, TShown>(Quantiles<T> quantiles, Func<T, TShown> shown) => new
    {
        p05 = shown(quantiles.P05),
        p25 = shown(quantiles.P25),
        p50 = shown(quantiles.P50),
        p75 = shown(quantiles.P75),
        p95 = shown(quantiles.P95),
    };
}
