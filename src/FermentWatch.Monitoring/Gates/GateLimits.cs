using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Waiting times and limits of the gates that a batch may have of its own. A new one is a line here and its words.</summary>
/// <remarks>Ranges are wide on purpose. Common practice, no source.</remarks>
public static class GateLimits
{
    /// <summary>What stands for the id of a rule: they share form and storage with the limits of alerts.</summary>
    public const string Rule = "gates";

    /// <summary>The limits in the order of the form.</summary>
    public static ValueList<AlertLimit> All { get; } = ValueList.Of<AlertLimit>(
        Of("hand-readings", "", 0, 2, 0, s => s.HandReadings, (s, v) => s with { HandReadings = (int)Math.Round(v) }),
        Of("hydrometer-error", "points", 0.5, 5, 1, s => s.HydrometerErrorPoints, (s, v) => s with { HydrometerErrorPoints = v }),
        Of("sensor-error", "points", 0.5, 5, 1, s => s.SensorErrorPoints, (s, v) => s with { SensorErrorPoints = v }),
        Of("agree", "points", 0.5, 3, 1, s => s.AgreePoints, (s, v) => s with { AgreePoints = v }),
        Of("between", "d", 3, 60, 1, s => s.BetweenReadings.TotalDays, (s, v) => s with { BetweenReadings = TimeSpan.FromDays(v) }),
        Of("between-slow", "d", 3, 90, 1, s => s.BetweenReadingsOfMead.TotalDays, (s, v) => s with { BetweenReadingsOfMead = TimeSpan.FromDays(v) }),
        Of("cold", "°C", 5, 22, 1, s => s.ColdCelsius, (s, v) => s with { ColdCelsius = v }),
        Of("after-stabilizing", "h", 12, 240, 1, s => s.AfterStabilizing.TotalHours, (s, v) => s with { AfterStabilizing = TimeSpan.FromHours(v) }),
        Of("dry-over", "d", 7, 90, 1, s => s.DryAndFlatOver.TotalDays, (s, v) => s with { DryAndFlatOver = TimeSpan.FromDays(v) }),
        Of("dry-sugar", "g/L", 0.5, 4, 1, s => s.DryGramsPerLiter, (s, v) => s with { DryGramsPerLiter = v }),
        Of("molecular", "mg/L", 0.3, 2, 2, s => s.MolecularMilligramsPerLiter, (s, v) => s with { MolecularMilligramsPerLiter = v }),
        Of("measured-within", "d", 1, 60, 0, s => s.MeasuredWithin.TotalDays, (s, v) => s with { MeasuredWithin = TimeSpan.FromDays(v) }));

    private static AlertLimit Of(string name, string unit, double low, double high, int digits, Func<GateSettings, double> of, Func<GateSettings, double, GateSettings> with) => new(
        Rule,
        new JournalField("limit-gate-" + name, FieldShape.Number, false) { Unit = unit, Low = low, High = high, Digits = digits },
        settings => of(settings.Gates),
        (settings, value) => settings with { Gates = with(settings.Gates, value) });
}
