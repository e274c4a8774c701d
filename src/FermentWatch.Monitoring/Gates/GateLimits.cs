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
        Of("rack-below", "%", 2, 50, 0, s => s.RackBelowShare * 100, (s, v) => s with { RackBelowShare = v / 100 }),
        Of("gross-lees", "d", 1, 30, 1, s => s.GrossLeesAtLeast.TotalDays, (s, v) => s with { GrossLeesAtLeast = TimeSpan.FromDays(v) }),
        Of("clean-lees", "d", 1, 60, 1, s => s.CleanLeesAtLeast.TotalDays, (s, v) => s with { CleanLeesAtLeast = TimeSpan.FromDays(v) }),
        Of("least-loss", "%", 0, 30, 1, s => s.LeastLoss * 100, (s, v) => s with { LeastLoss = v / 100 }),
        Of("most-loss", "%", 0, 40, 1, s => s.MostLoss * 100, (s, v) => s with { MostLoss = v / 100 }),
        Of("after-stabilizing", "h", 12, 240, 1, s => s.AfterStabilizing.TotalHours, (s, v) => s with { AfterStabilizing = TimeSpan.FromHours(v) }),
        Of("volume-within", "d", 0.5, 30, 1, s => s.VolumeWithin.TotalDays, (s, v) => s with { VolumeWithin = TimeSpan.FromDays(v) }),
        Of("watch-warm", "°C", 12, 25, 1, s => s.WatchCelsius, (s, v) => s with { WatchCelsius = v }),
        Of("heated", "°C", 55, 80, 1, s => s.HeatedCelsius, (s, v) => s with { HeatedCelsius = v }),
        Of("heated-minutes", "min", 10, 500, 0, s => s.HeatedMinutes, (s, v) => s with { HeatedMinutes = v }),
        Of("pore", "µm", 0.1, 1, 2, s => s.PoreMicrometers, (s, v) => s with { PoreMicrometers = v }),
        Of("kept-cold", "°C", -2, 10, 1, s => s.KeptColdCelsius, (s, v) => s with { KeptColdCelsius = v }),
        Of("cold-for", "d", 1, 30, 1, s => s.ColdFor.TotalDays, (s, v) => s with { ColdFor = TimeSpan.FromDays(v) }),
        Of("gauge-rise", "bar", 0.1, 2, 1, s => s.GaugeRiseBar, (s, v) => s with { GaugeRiseBar = v }),
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
