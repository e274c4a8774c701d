using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

/// <summary>Any bytes are accepted or rejected with a reason. FERMENTWATCH_SEED and FERMENTWATCH_INPUTS change the run.</summary>
public sealed partial class HostilePayloadTests(ITestOutputHelper output)
{
    private static readonly TopicMapping Plain = new(
        "float",
        TopicFilter.Parse("float/gravity"),
        ValueList.Of<FieldMapping>(new FieldMapping(null, QuantityKind.Gravity, MeasurementUnit.SpecificGravity)),
        null);

    private static readonly TopicMapping Json = new(
        "float",
        TopicFilter.Parse("float/gravity"),
        ValueList.Of<FieldMapping>(
            new FieldMapping(JsonPointer.Parse("/sg"), QuantityKind.Gravity, MeasurementUnit.SpecificGravity),
            new FieldMapping(JsonPointer.Parse("/t/0"), QuantityKind.Temperature, MeasurementUnit.DegreesCelsius)),
        new TimeMapping(JsonPointer.Parse("/at"), TimeFormat.Iso8601));

    /// <summary>Codes that a topic or the other time formats give, which these inputs do not vary.</summary>
    private static readonly string[] NotVaried =
    [
        DecodeReasons.TopicNotMapped,
        DecodeReasons.SensorNameUnusable,
        DecodeReasons.TimeFitsMilliseconds,
        DecodeReasons.TimeFitsSeconds,
        DecodeReasons.ValueFitsTwoUnits,
        DecodeReasons.ValueFitsFourUnits,
    ];

    [Fact]
    public void AnyBytes_AreAcceptedOrRejectedWithAReason()
    {
        var seed = Setting("FERMENTWATCH_SEED", 20260314);
        var inputs = Setting("FERMENTWATCH_INPUTS", 100_000);
        output.WriteLine($"seed {seed}, {inputs} inputs");
        var made = new HostilePayload(seed);
        var counts = new SortedDictionary<string, int>(StringComparer.Ordinal);
        var mutatedToNumber = 0;
        var elapsed = new List<double>(inputs);
        for (var i = 0; i < inputs; i++)
        {
            var json = i % 2 == 0;
            var kind = i % 10;
            var payload = kind < 6 ? made.Mutated(json) : kind < 8 ? made.Misfilled() : made.Meaningless();
            var mapping = json ? Json : Plain;
            DecodedMessage message;
            var started = Stopwatch.GetTimestamp();
            try
            {
                message = PayloadDecoder.Decode("float/gravity", payload, mapping);
            }
            catch (Exception thrown)
            {
                throw new InvalidOperationException($"seed {seed}, input {i}: {Convert.ToHexString(payload)} threw {thrown.GetType().Name}.", thrown);
            }

            elapsed.Add(Stopwatch.GetElapsedTime(started).TotalMicroseconds);
            Judge(message, mapping, payload, $"seed {seed}, input {i}: {Convert.ToHexString(payload.AsSpan(0, Math.Min(64, payload.Length)))}");
            Count(counts, message);
            mutatedToNumber += kind < 6 && ReachesNumber(message) ? 1 : 0;
        }

        foreach (var (outcome, count) in counts)
        {
            output.WriteLine($"{count,8} {outcome}");
        }

        elapsed.Sort();
        output.WriteLine($"{mutatedToNumber,8} mutations of valid messages that reach the numeric stage ({100.0 * mutatedToNumber / inputs:0.0} % of all)");
        output.WriteLine($"time: median {elapsed[inputs / 2]:0.0} µs, P99 {elapsed[inputs * 99 / 100]:0.0} µs");
        Assert.True(mutatedToNumber >= 0.3 * inputs, $"Only {mutatedToNumber} mutations reached the numeric stage.");
        foreach (var outcome in Enum.GetNames<DecodeOutcome>().Concat(DecodeReasons.All.Except(NotVaried)))
        {
            Assert.True(counts.GetValueOrDefault(outcome) > 0, $"No input gave {outcome} with seed {seed}.");
        }

        // Ten times the bar of 5 ms: a busy machine is no failure.
        Assert.True(elapsed[inputs * 99 / 100] < 50_000, "Decoding took longer than 50 ms for one input in a hundred.");
    }

    private static void Judge(DecodedMessage message, TopicMapping mapping, byte[] payload, string input)
    {
        Assert.True(message.Accepted.Count + message.Rejected.Count == mapping.Fields.Count, input);
        Assert.True(message.Rejected.All(field => DecodeReasons.All.Contains(field.Why.Code)), input);
        Assert.True(mapping.Time is null == (message.DeviceTime is null && message.TimeRejected is null), input);
        foreach (var field in message.Accepted)
        {
            Assert.True(field.Quantity != QuantityKind.Gravity || field.Value is >= 0.9 and <= 1.3, input);
            Assert.True(field.Quantity != QuantityKind.Temperature || field.Value is >= -30 and <= 60, input);
        }

        if (mapping == Plain)
        {
            // An independent statement of what is a plain number in range.
            var text = Encoding.UTF8.GetString(payload).TrimStart('\uFEFF');
            var plain = PlainGravity().IsMatch(text) && text.Trim().Length <= 64
                && double.Parse(text.Trim(), CultureInfo.InvariantCulture) is >= 0.9 and <= 1.3;
            Assert.True(plain == (message.Accepted.Count == 1), input);
        }
    }

    private static void Count(SortedDictionary<string, int> counts, DecodedMessage message)
    {
        IEnumerable<string> outcomes = [
            message.Outcome.ToString(),
            .. message.Rejected.Select(field => field.Why.Code),
            .. message.TimeRejected is { } time && message.Rejected.All(field => field.Why != time) ? [time.Code] : Array.Empty<string>()];
        foreach (var outcome in outcomes)
        {
            counts[outcome] = counts.GetValueOrDefault(outcome) + 1;
        }
    }

    private static bool ReachesNumber(DecodedMessage message) =>
        message.Accepted.Count > 0
        || message.Rejected.Any(field => field.Why.Code.StartsWith("number-", StringComparison.Ordinal) || field.Why.Code.StartsWith("value-", StringComparison.Ordinal));

    private static int Setting(string name, int otherwise) =>
        int.TryParse(Environment.GetEnvironmentVariable(name), NumberStyles.Integer, CultureInfo.InvariantCulture, out var value) ? value : otherwise;

    [GeneratedRegex(@"\A[ \t\r\n]*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?[ \t\r\n]*\z")]
    private static partial Regex PlainGravity();
}
