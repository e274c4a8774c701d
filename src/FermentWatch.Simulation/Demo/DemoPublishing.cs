using System.Globalization;
using System.Text;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation.Demo;

/// <summary>Units in which the demo's sensors send. The names are those that the service's settings use.</summary>
public enum DemoUnit
{
    /// <summary>Specific gravity 20/20 °C.</summary>
    SpecificGravity = 1,

    /// <summary>°Plato.</summary>
    DegreesPlato = 2,

    /// <summary>Density at 20 °C in kg/m³.</summary>
    KilogramsPerCubicMeter = 3,

    /// <summary>°C.</summary>
    DegreesCelsius = 4,

    /// <summary>°F.</summary>
    DegreesFahrenheit = 5,
}

/// <summary>One number that a sensor of the demo sends.</summary>
/// <param name="Topic">The topic it comes on.</param>
/// <param name="JsonPlace">Where in the JSON message (RFC 6901); null when the message is the number alone.</param>
/// <param name="Unit">Its unit.</param>
public sealed record DemoField(string Topic, string? JsonPlace, DemoUnit Unit);

/// <summary>How a sensor of the demo publishes.</summary>
public sealed class DemoPublishing
{
    private readonly Func<DemoSample, DateTimeOffset, IReadOnlyList<DemoMessage>> _render;

    private DemoPublishing(
        IReadOnlyList<DemoField> fields,
        string? timeJsonPlace,
        Func<DemoSample, DateTimeOffset, IReadOnlyList<DemoMessage>> render) =>
        (Fields, TimeJsonPlace, _render) = (fields, timeJsonPlace, render);

    /// <summary>The numbers it sends, gravity first.</summary>
    public IReadOnlyList<DemoField> Fields { get; }

    /// <summary>Where the device's own time stands, in ISO 8601; null when it sends none.</summary>
    public string? TimeJsonPlace { get; }

    internal IReadOnlyList<DemoMessage> Render(DemoSample sample, DateTimeOffset at) => _render(sample, at);

    /// <summary>Two topics, a bare number on each: specific gravity and °C.</summary>
    internal static DemoPublishing PlainNumbers(string topic) => new(
        [new($"{topic}/gravity", null, DemoUnit.SpecificGravity), new($"{topic}/temperature", null, DemoUnit.DegreesCelsius)],
        null,
        (sample, _) =>
        [
            Message($"{topic}/gravity", $"{sample.SpecificGravity:F4}"),
            Message($"{topic}/temperature", $"{sample.Celsius:F1}"),
        ]);

    /// <summary>One JSON message with the device's own time, specific gravity and °C.</summary>
    internal static DemoPublishing JsonWithTime(string topic) => new(
        [new(topic, "/gravity", DemoUnit.SpecificGravity), new(topic, "/celsius", DemoUnit.DegreesCelsius)],
        "/taken",
        (sample, at) =>
        [
            Message(
                topic,
                $"{{\"taken\":\"{at.UtcDateTime:yyyy-MM-dd'T'HH:mm:ss'Z'}\",\"gravity\":{sample.SpecificGravity:F4},\"celsius\":{sample.Celsius:F2}}}"),
        ]);

    /// <summary>One JSON message in °Plato and °F, without a time.</summary>
    internal static DemoPublishing JsonPlatoAndFahrenheit(string topic) => new(
        [new(topic, "/must/plato", DemoUnit.DegreesPlato), new(topic, "/must/fahrenheit", DemoUnit.DegreesFahrenheit)],
        null,
        (sample, _) =>
        [
            Message(topic, $"{{\"must\":{{\"plato\":{PlatoOf(sample):F2},\"fahrenheit\":{(sample.Celsius * 1.8) + 32:F1}}}}}"),
        ]);

    /// <summary>One JSON message with a density in kg/m³ and °C, without a time.</summary>
    internal static DemoPublishing JsonDensity(string topic) => new(
        [new(topic, "/density", DemoUnit.KilogramsPerCubicMeter), new(topic, "/warmth", DemoUnit.DegreesCelsius)],
        null,
        (sample, _) => [Message(topic, $"{{\"density\":{DensityOf(sample):F1},\"warmth\":{sample.Celsius:F1}}}")]);

    private static double PlatoOf(DemoSample sample) =>
        GravityUnits.PlatoOf(SpecificGravity.FromRatio(sample.SpecificGravity)).Degrees;

    private static double DensityOf(DemoSample sample) =>
        GravityUnits.DensityOf(SpecificGravity.FromRatio(sample.SpecificGravity)).KilogramsPerCubicMeter;

    private static DemoMessage Message(string topic, FormattableString payload) =>
        new(topic, Encoding.UTF8.GetBytes(payload.ToString(CultureInfo.InvariantCulture)));
}
