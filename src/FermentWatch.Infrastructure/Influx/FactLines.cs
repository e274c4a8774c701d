using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>Facts as lines. The same fact gives the same series and time, so that a repeat writes over itself.</summary>
/// <param name="site">Value of the tag <c>site</c>.</param>
/// <param name="quantityWord">The word of a quantity, as in the settings.</param>
public sealed class FactLines(string site, Func<QuantityKind, string> quantityWord)
{
    /// <summary>The lines of a fact; none when it holds nothing that can be said.</summary>
    public IEnumerable<string> Of(CopiedFact fact) => Lines(fact).OfType<string>();

    /// <summary>What the service counted up to now.</summary>
    /// <param name="counts">The counts.</param>
    /// <param name="at">When.</param>
    public string OfCounts(StoreCounts counts, ReceivedAt at)
    {
        ArgumentNullException.ThrowIfNull(counts);
        long Of(InboxOutcome outcome) => counts.Messages.GetValueOrDefault(outcome);
        return Point(PointNames.Ingest)
            .Field("messages", counts.Messages.Values.Sum() + counts.Waiting)
            .Field("messages_waiting", counts.Waiting)
            .Field("messages_read", Of(InboxOutcome.Stored) + Of(InboxOutcome.PartlyRejected) + Of(InboxOutcome.Known))
            .Field("messages_rejected", Of(InboxOutcome.Rejected) + Of(InboxOutcome.TooLarge))
            .Field("messages_redelivered", counts.Redelivered)
            .Field("readings", counts.ReadingsStored)
            .Field("readings_known", counts.ReadingsKnown)
            .Field("readings_corrected", counts.ReadingsCorrected)
            .Field("clocks_repaired", counts.ClocksRepaired)
            .At(at.UnixMicroseconds * 1000)!;
    }

    private IEnumerable<string?> Lines(CopiedFact fact) => fact switch
    {
        CopiedFact.OneReading reading => [Reading(reading)],
        CopiedFact.OneForecast forecast => Forecast(forecast),
        CopiedFact.AlertsOf alerts => AlertJson.ReadSet(alerts.AlertSet).Alerts.SelectMany(alert => Alert(alerts.Batch?.Value, alert)),
        _ => throw new ArgumentOutOfRangeException(nameof(fact), fact, "No such fact."),
    };

    private LineText Point(string measurement) => new LineText(measurement).Tag("site", site);

    private string? Reading(CopiedFact.OneReading reading)
    {
        var line = Point(PointNames.Reading).Tag("sensor", reading.Series.Sensor.Value).Tag("quantity", quantityWord(reading.Series.Quantity));
        if (reading.Figures is { } figures)
        {
            line.Field("value", figures.Value)
                .Field("raw", figures.Raw)
                .Field("delay_seconds", figures.Delay.TotalSeconds)
                .Field("clock_trusted", figures.ClockTrusted);
        }

        return line.Field("counts", reading.Counts).At(reading.UnixNanoseconds);
    }

    private IEnumerable<string?> Forecast(CopiedFact.OneForecast forecast)
    {
        var batch = forecast.Batch.Value;
        var record = forecast.Record;
        var at = record.AsOf.UnixMicroseconds * 1000;
        foreach (var sensor in forecast.Sensors)
        {
            yield return Point(PointNames.Batch)
                .Tag("batch", batch)
                .Tag("sensor", sensor.Sensor.Value)
                .Field("batch_name", forecast.Name)
                .Field("vessel", forecast.Vessel)
                .Field("placement", sensor.Placement.ToString())
                .At(at);
        }

        using var json = JsonDocument.Parse(record.Quantiles);
        var root = json.RootElement;
        var line = Point(PointNames.Forecast).Tag("batch", batch);
        foreach (var quantile in (string[])["p05", "p25", "p50", "p75", "p95"])
        {
            line.Field("final_gravity_" + quantile, Number(root, "finalGravity", quantile));
            line.Field("finish_days_" + quantile, DaysAhead(root, quantile, record.AsOf));
        }

        yield return line
            .Field("determined", Text(root, "notYet") is null)
            .Field("not_yet", Text(root, "notYet"))
            .Field("engine", record.EngineVersion)
            .Field("prior", record.Prior)
            .At(at);
        yield return Phase(batch, root, at);
        if (root.TryGetProperty("gates", out var gates))
        {
            foreach (var gate in gates.EnumerateArray())
            {
                var (met, of) = ((long)Number(gate, "met")!.Value, (long)Number(gate, "of")!.Value);
                yield return Point(PointNames.Gate)
                    .Tag("batch", batch)
                    .Tag("gate", Text(gate, "gate"))
                    .Field("met", met)
                    .Field("conditions", of)
                    .Field("open", met == of)
                    .At(at);
            }
        }
    }

    private string? Phase(string batch, JsonElement root, long at)
    {
        if (!root.TryGetProperty("phase", out var phase))
        {
            return null;
        }

        var line = Point(PointNames.Phase).Tag("batch", batch)
            .Field("phase", Text(phase, "is"))
            .Field("because", Text(phase, "because"))
            .Field("fall_points_per_day", Number(phase, "fallPerDay") * 1000);
        return line
            .Field("gravity", Number(root, "now", "gravity"))
            .Field("temperature", Number(root, "now", "celsius"))
            .Field("alcohol_percent", Number(root, "now", "alcoholPercent"))
            .Field("sugar_grams_per_liter", Number(root, "now", "sugarGramsPerLiter"))
            .At(at);
    }

    private IEnumerable<string?> Alert(string? batch, TrackedAlert alert)
    {
        yield return Line("raised", alert.RaisedAt, stands: true);
        if (alert.ClearedAt is { } cleared)
        {
            // Never on the point of the raising, which it would write over.
            var at = cleared > alert.RaisedAt ? cleared : alert.RaisedAt + TimeSpan.FromMicroseconds(1);
            yield return Line(alert.Standing == AlertStanding.Withdrawn ? "withdrawn" : "cleared", at, stands: false);
        }

        string? Line(string what, EventTime at, bool stands) => Point(PointNames.Alert)
            .Tag("batch", batch)
            .Tag("rule", alert.Rule)
            .Tag("subject", alert.Subject)
            .Field("what", what)
            .Field("stands", stands)
            .Field("severity", alert.Severity.ToString())
            .Field("key", alert.Key)
            .Field("because", alert.Because.Code)
            .Field("acknowledged", alert.AcknowledgedAt is not null)
            .Field("disputed", alert.DisputedAt is not null)
            .At(at.UnixMicroseconds * 1000);
    }

    private static double? DaysAhead(JsonElement root, string quantile, EventTime asOf) =>
        Text(root, "finish", quantile) is { } text && IsoTime.Read(text, out _) is { } finish ? (finish - asOf).TotalDays : null;

    private static double? Number(JsonElement element, params ReadOnlySpan<string> path) =>
        Find(element, path) is { ValueKind: JsonValueKind.Number } found ? found.GetDouble() : null;

    private static string? Text(JsonElement element, params ReadOnlySpan<string> path) =>
        Find(element, path) is { ValueKind: JsonValueKind.String } found ? found.GetString() : null;

    private static JsonElement? Find(JsonElement element, ReadOnlySpan<string> path)
    {
        foreach (var name in path)
        {
            if (element.ValueKind != JsonValueKind.Object || !element.TryGetProperty(name, out element))
            {
                return null;
            }
        }

        return element;
    }
}
