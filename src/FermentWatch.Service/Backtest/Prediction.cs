using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>What was predicted at one cut of one recording: a line of predictions.jsonl.</summary>
/// <param name="Ferment">Name of the recording.</param>
/// <param name="Cut">Number of the cut.</param>
/// <param name="FinalGravity">SG, five quantiles; null where a file of predictions lacks one.</param>
/// <param name="Finish">When it will be within 0.001 of its end; null where that is not in sight.</param>
/// <param name="State">lag, active, slowing, stuck or finished.</param>
/// <param name="Ready">Whether it has finished and can be stabilized.</param>
/// <param name="TemperatureAlarm">Whether a spell of at least 4 h outside the band reaches into the last 12 h.</param>
/// <param name="NotYet">Code of the reason why the readings do not determine the end yet, or null.</param>
internal sealed record Prediction(
    string Ferment,
    int Cut,
    Quantiles<double?> FinalGravity,
    Quantiles<EventTime?> Finish,
    string State,
    bool Ready,
    bool TemperatureAlarm,
    string? NotYet)
{
    /// <summary>Reads a line.</summary>
    /// <exception cref="BacktestException">It is no prediction.</exception>
    public static Prediction Read(string place, string line)
    {
        try
        {
            using var document = JsonDocument.Parse(line);
            var fields = new JsonFields(place, document.RootElement);
            var (gravity, finish) = (fields.Object("fg"), fields.Object("finish"));
            double? End(string name) => gravity?.Number(name, double.MinValue, double.MaxValue);
            EventTime? At(string name) => finish?.Time(name);
            return new Prediction(
                fields.Text("ferment") ?? throw fields.Wrong("ferment", "the name of a recording"),
                (int)(fields.Number("cut", 0, int.MaxValue) ?? throw fields.Wrong("cut", "the number of a cut")),
                new Quantiles<double?>(End("p05"), End("p25"), End("p50"), End("p75"), End("p95")),
                new Quantiles<EventTime?>(At("p05"), At("p25"), At("p50"), At("p75"), At("p95")),
                fields.Text("state") ?? "",
                fields.Flag("ready") ?? false,
                fields.Flag("temp_alarm") ?? false,
                fields.Text("not_yet"));
        }
        catch (JsonException fault)
        {
            throw new BacktestException($"{place}: not valid JSON ({fault.Message})", fault);
        }
    }

    /// <summary>The line, without its end.</summary>
    public string ToLine()
    {
        var line = new JsonObject
        {
            ["ferment"] = Ferment,
            ["cut"] = Cut,
            ["fg"] = Of(FinalGravity, value => value is { } number ? JsonValue.Create(number) : null),
            ["finish"] = Of(Finish, value => value is { } time ? JsonValue.Create(time.ToDateTimeOffset().ToString("yyyy-MM-ddTHH:mm:ss'Z'", CultureInfo.InvariantCulture)) : null),
            ["state"] = State,
            ["ready"] = Ready,
            ["temp_alarm"] = TemperatureAlarm,
            ["not_yet"] = NotYet,
        };
        return line.ToJsonString();
    }

    private static JsonObject Of<T>(Quantiles<T> quantiles, Func<T, JsonNode?> node) => new()
    {
        ["p05"] = node(quantiles.P05),
        ["p25"] = node(quantiles.P25),
        ["p50"] = node(quantiles.P50),
        ["p75"] = node(quantiles.P75),
        ["p95"] = node(quantiles.P95),
    };
}
