using System.Collections.Frozen;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Every limit and hold that a batch may have of its own. A new one is a line here and its words.</summary>
/// <remarks>Ranges are wide on purpose, but keep what warns of danger in reach. Common practice, no source.</remarks>
public static class AlertLimitCatalog
{
    private static readonly ValueList<AlertLimit> OfRules = ValueList.Of<AlertLimit>(
        Of("temperature-band", "band-in-liquid", "h", 0, 24, 2, s => s.TemperatureBand.OnDelayInLiquid.TotalHours, (s, v) => s with { TemperatureBand = s.TemperatureBand with { OnDelayInLiquid = TimeSpan.FromHours(v) } }),
        Of("temperature-band", "band-insulated", "h", 0, 24, 2, s => s.TemperatureBand.OnDelayInsulated.TotalHours, (s, v) => s with { TemperatureBand = s.TemperatureBand with { OnDelayInsulated = TimeSpan.FromHours(v) } }),
        Of("temperature-band", "band-bare-glass", "h", 0, 48, 2, s => s.TemperatureBand.OnDelayBareGlass.TotalHours, (s, v) => s with { TemperatureBand = s.TemperatureBand with { OnDelayBareGlass = TimeSpan.FromHours(v) } }),
        Of("temperature-band", "band-clear", "Δ°C", 0, 3, 1, s => s.TemperatureBand.ClearMarginCelsius, (s, v) => s with { TemperatureBand = s.TemperatureBand with { ClearMarginCelsius = v } }),
        Of("temperature-band", "band-off", "h", 0, 24, 2, s => s.TemperatureBand.OffDelay.TotalHours, (s, v) => s with { TemperatureBand = s.TemperatureBand with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("temperature-band", "band-after-handled", "h", 0, 48, 2, s => s.TemperatureBand.AfterHandled.TotalHours, (s, v) => s with { TemperatureBand = s.TemperatureBand with { AfterHandled = TimeSpan.FromHours(v) } }),
        Of("temperature-danger", "danger-hot", "°C", 25, 40, 1, s => s.TemperatureDanger.HotCelsius, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { HotCelsius = v } }),
        Of("temperature-danger", "danger-freezing", "°C", -8, 4, 1, s => s.TemperatureDanger.FreezingCelsius, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { FreezingCelsius = v } }),
        Of("temperature-danger", "danger-earlier", "Δ°C", 0, 5, 1, s => s.TemperatureDanger.EarlierCelsius, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { EarlierCelsius = v } }),
        Of("temperature-danger", "danger-rise", "Δ°C", 0.1, 5, 2, s => s.TemperatureDanger.FastRisePerHour, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { FastRisePerHour = v } }),
        Of("temperature-danger", "danger-on", "h", 0, 2, 2, s => s.TemperatureDanger.OnDelay.TotalHours, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("temperature-danger", "danger-off", "h", 0, 24, 2, s => s.TemperatureDanger.OffDelay.TotalHours, (s, v) => s with { TemperatureDanger = s.TemperatureDanger with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("temperature-drop", "drop-by", "Δ°C", 1, 20, 1, s => s.TemperatureDrop.DropCelsius, (s, v) => s with { TemperatureDrop = s.TemperatureDrop with { DropCelsius = v } }),
        Of("temperature-drop", "drop-within", "h", 1, 48, 2, s => s.TemperatureDrop.Within.TotalHours, (s, v) => s with { TemperatureDrop = s.TemperatureDrop with { Within = TimeSpan.FromHours(v) } }),
        Of("temperature-drop", "drop-on", "h", 0, 24, 2, s => s.TemperatureDrop.OnDelay.TotalHours, (s, v) => s with { TemperatureDrop = s.TemperatureDrop with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("temperature-drop", "drop-off", "h", 0, 48, 2, s => s.TemperatureDrop.OffDelay.TotalHours, (s, v) => s with { TemperatureDrop = s.TemperatureDrop with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("no-start", "no-start-wait", "h", 12, 240, 2, s => s.NoStart.Wait.TotalHours, (s, v) => s with { NoStart = s.NoStart with { Wait = TimeSpan.FromHours(v) } }),
        Of("no-start", "no-start-mead", "h", 12, 240, 2, s => s.NoStart.MeadWait.TotalHours, (s, v) => s with { NoStart = s.NoStart with { MeadWait = TimeSpan.FromHours(v) } }),
        Of("no-start", "no-start-fall", "points", 0.5, 10, 1, s => s.NoStart.FallPoints, (s, v) => s with { NoStart = s.NoStart with { FallPoints = v } }),
        Of("no-start", "no-start-pulses", "", 0.1, 60, 1, s => s.NoStart.ActivePulses, (s, v) => s with { NoStart = s.NoStart with { ActivePulses = v } }),
        Of("no-start", "no-start-off", "h", 0, 48, 2, s => s.NoStart.OffDelay.TotalHours, (s, v) => s with { NoStart = s.NoStart with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("stuck", "stuck-raise", "%", 35, 99.5, 1, s => s.Stuck.RaiseAt * 100, (s, v) => s with { Stuck = s.Stuck with { RaiseAt = v / 100 } }),
        Of("stuck", "stuck-clear", "%", 5, 95, 1, s => s.Stuck.ClearBelow * 100, (s, v) => s with { Stuck = s.Stuck with { ClearBelow = v / 100 } }),
        Of("stuck", "stuck-on", "h", 0, 96, 2, s => s.Stuck.OnDelay.TotalHours, (s, v) => s with { Stuck = s.Stuck with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("stuck", "stuck-off", "h", 0, 96, 2, s => s.Stuck.OffDelay.TotalHours, (s, v) => s with { Stuck = s.Stuck with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("stuck", "stuck-handling", "h", 0, 96, 2, s => s.Stuck.AfterHandling.TotalHours, (s, v) => s with { Stuck = s.Stuck with { AfterHandling = TimeSpan.FromHours(v) } }),
        Of("ready-to-stabilize", "ready-raise", "%", 80, 99.5, 1, s => s.Ready.RaiseAt * 100, (s, v) => s with { Ready = s.Ready with { RaiseAt = v / 100 } }),
        Of("ready-to-stabilize", "ready-on", "h", 12, 336, 2, s => s.Ready.OnDelay.TotalHours, (s, v) => s with { Ready = s.Ready with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("ready-withdrawn", "withdrawn-on", "h", 0, 48, 2, s => s.Ready.WithdrawDelay.TotalHours, (s, v) => s with { Ready = s.Ready with { WithdrawDelay = TimeSpan.FromHours(v) } }),
        Of("ready-withdrawn", "withdrawn-falls", "points", 0.5, 5, 1, s => s.Ready.FallsPoints, (s, v) => s with { Ready = s.Ready with { FallsPoints = v } }),
        Of("ready-withdrawn", "withdrawn-hand", "points", 0.5, 5, 1, s => s.Ready.HandDisagreesPoints, (s, v) => s with { Ready = s.Ready with { HandDisagreesPoints = v } }),
        Of("ready-withdrawn", "withdrawn-hand-above", "points", 2, 20, 1, s => s.Ready.HandFarAbovePoints, (s, v) => s with { Ready = s.Ready with { HandFarAbovePoints = v } }),
        Of("ph-low", "ph-urgent", "", 2.5, 3.4, 2, s => s.Acidity.UrgentBelow, (s, v) => s with { Acidity = s.Acidity with { UrgentBelow = v } }),
        Of("ph-low", "ph-below", "", 2.6, 3.6, 2, s => s.Acidity.Below, (s, v) => s with { Acidity = s.Acidity with { Below = v } }),
        Of("ph-low", "ph-clear", "", 2.7, 3.8, 2, s => s.Acidity.ClearAbove, (s, v) => s with { Acidity = s.Acidity with { ClearAbove = v } }),
        Of("ph-low", "ph-off", "h", 0, 48, 2, s => s.Acidity.OffDelay.TotalHours, (s, v) => s with { Acidity = s.Acidity with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("fermenting-again", "again-falls", "points", 0.2, 5, 1, s => s.Referment.FallsPointsPerDay, (s, v) => s with { Referment = s.Referment with { FallsPointsPerDay = v } }),
        Of("fermenting-again", "again-pressure", "kPa", 1, 200, 0, s => s.Referment.PressureRisesPerDay, (s, v) => s with { Referment = s.Referment with { PressureRisesPerDay = v } }),
        Of("fermenting-again", "again-after-sweetening", "h", 0, 240, 2, s => s.Referment.AfterSweetening.TotalHours, (s, v) => s with { Referment = s.Referment with { AfterSweetening = TimeSpan.FromHours(v) } }),
        Of("fermenting-again", "again-on", "h", 6, 96, 2, s => s.Referment.OnDelay.TotalHours, (s, v) => s with { Referment = s.Referment with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("fermenting-again", "again-off", "h", 6, 96, 2, s => s.Referment.OffDelay.TotalHours, (s, v) => s with { Referment = s.Referment with { OffDelay = TimeSpan.FromHours(v) } }),
        Of("sugar-mixing", "mixing-rises", "points", 1, 10, 1, s => s.Mixing.RisesPoints, (s, v) => s with { Mixing = s.Mixing with { RisesPoints = v } }),
        Of("sensor-implausible", "implausible-count", "", 1, 10, 0, s => s.Implausible.SetAside, (s, v) => s with { Implausible = s.Implausible with { SetAside = (int)Math.Round(v) } }),
        Of("sensor-implausible", "implausible-delay", "", 0, 20, 1, s => s.Implausible.DelayIntervals, (s, v) => s with { Implausible = s.Implausible with { DelayIntervals = v } }),
        Of("sensor-implausible", "implausible-at-least", "h", 0, 24, 2, s => s.Implausible.DelayAtLeast.TotalHours, (s, v) => s with { Implausible = s.Implausible with { DelayAtLeast = TimeSpan.FromHours(v) } }),
        Of("step-found", "step-returns", "h", 1, 48, 2, s => s.Step.Returns.TotalHours, (s, v) => s with { Step = s.Step with { Returns = TimeSpan.FromHours(v) } }),
        Of("step-found", "step-forget", "d", 1, 14, 2, s => s.Step.Forget.TotalDays, (s, v) => s with { Step = s.Step with { Forget = TimeSpan.FromDays(v) } }),
        Of("nutrient-due", "nutrient-ahead", "h", 1, 24, 2, s => s.Nutrient.Ahead.TotalHours, (s, v) => s with { Nutrient = s.Nutrient with { Ahead = TimeSpan.FromHours(v) } }),
        Of("nutrient-due", "nutrient-evening", "h", 1, 36, 2, s => s.Nutrient.AheadInTheEvening.TotalHours, (s, v) => s with { Nutrient = s.Nutrient with { AheadInTheEvening = TimeSpan.FromHours(v) } }),
        Of("nutrient-due", "nutrient-missed", "%", 10, 100, 0, s => s.Nutrient.MissedAt * 100, (s, v) => s with { Nutrient = s.Nutrient with { MissedAt = v / 100 } }),
        Of("battery-low", "battery-days", "d", 1, 60, 0, s => s.Battery.Days, (s, v) => s with { Battery = s.Battery with { Days = v } }),
        Of("battery-low", "battery-clear", "d", 2, 90, 0, s => s.Battery.ClearDays, (s, v) => s with { Battery = s.Battery with { ClearDays = v } }),
        Of("battery-low", "battery-stop", "V", 0, 20, 2, s => s.Battery.StopVolts, (s, v) => s with { Battery = s.Battery with { StopVolts = v } }),
        Of("forecast-moved", "moved-days", "d", 0.5, 30, 1, s => s.ForecastMoved.FinishDays, (s, v) => s with { ForecastMoved = s.ForecastMoved with { FinishDays = v } }),
        Of("forecast-moved", "moved-on", "h", 0, 96, 2, s => s.ForecastMoved.OnDelay.TotalHours, (s, v) => s with { ForecastMoved = s.ForecastMoved with { OnDelay = TimeSpan.FromHours(v) } }),
        Of("waiting-over", "wait-tannin", "d", 1, 90, 1, s => s.Waiting.Tannin.TotalDays, (s, v) => s with { Waiting = s.Waiting with { Tannin = TimeSpan.FromDays(v) } }),
        Of("waiting-over", "wait-fining", "d", 1, 60, 1, s => s.Waiting.Fining.TotalDays, (s, v) => s with { Waiting = s.Waiting with { Fining = TimeSpan.FromDays(v) } }),
        Of("waiting-over", "wait-clarification", "d", 1, 60, 1, s => s.Waiting.Clarification.TotalDays, (s, v) => s with { Waiting = s.Waiting with { Clarification = TimeSpan.FromDays(v) } }),
        Of("waiting-over", "wait-stabilized", "d", 1, 30, 1, s => s.Waiting.Stabilized.TotalDays, (s, v) => s with { Waiting = s.Waiting with { Stabilized = TimeSpan.FromDays(v) } }),
        Of("waiting-over", "wait-sweetened", "d", 7, 90, 1, s => s.Waiting.Sweetened.TotalDays, (s, v) => s with { Waiting = s.Waiting with { Sweetened = TimeSpan.FromDays(v) } }),
        Of("sentinel-due", "sentinel-hot", "°C", 20, 40, 1, s => s.Sentinel.HotCelsius, (s, v) => s with { Sentinel = s.Sentinel with { HotCelsius = v } }),
        Of("sentinel-due", "sentinel-look-1", "d", 1, 20, 0, s => s.Sentinel.Days[0], (s, v) => Look(s, 0, v)),
        Of("sentinel-due", "sentinel-look-2", "d", 2, 30, 0, s => s.Sentinel.Days[1], (s, v) => Look(s, 1, v)),
        Of("sentinel-due", "sentinel-look-3", "d", 3, 60, 0, s => s.Sentinel.Days[2], (s, v) => Look(s, 2, v)),
        Of("sentinel-due", "sentinel-look-4", "d", 7, 120, 0, s => s.Sentinel.Days[3], (s, v) => Look(s, 3, v)),
        Of("sentinel-due", "sentinel-look-5", "d", 14, 365, 0, s => s.Sentinel.Days[4], (s, v) => Look(s, 4, v)),
        Of("care-due", "care-airlock", "d", 3, 90, 0, s => s.Care.Airlock.TotalDays, (s, v) => s with { Care = s.Care with { Airlock = TimeSpan.FromDays(v) } }),
        Of("care-due", "care-sulfite", "d", 7, 180, 0, s => s.Care.FreeSulfite.TotalDays, (s, v) => s with { Care = s.Care with { FreeSulfite = TimeSpan.FromDays(v) } }),
        Of("care-due", "care-oak", "d", 1, 60, 0, s => s.Care.Oak.TotalDays, (s, v) => s with { Care = s.Care with { Oak = TimeSpan.FromDays(v) } }),
        Of("care-due", "care-top-up", "d", 3, 180, 0, s => s.Care.TopUp.TotalDays, (s, v) => s with { Care = s.Care with { TopUp = TimeSpan.FromDays(v) } }),
        Of("care-due", "care-gross-lees", "d", 3, 60, 0, s => s.Care.GrossLees.TotalDays, (s, v) => s with { Care = s.Care with { GrossLees = TimeSpan.FromDays(v) } }),
        Of("care-due", "care-clean-lees", "d", 3, 120, 0, s => s.Care.CleanLees.TotalDays, (s, v) => s with { Care = s.Care with { CleanLees = TimeSpan.FromDays(v) } }),
        Of("sensor-silent", "silent-temperature-intervals", "", 2, 100, 0, s => s.SensorSilent.TemperatureIntervals, (s, v) => s with { SensorSilent = s.SensorSilent with { TemperatureIntervals = v } }),
        Of("sensor-silent", "silent-temperature", "h", 0.5, 96, 2, s => s.SensorSilent.TemperatureAtLeast.TotalHours, (s, v) => s with { SensorSilent = s.SensorSilent with { TemperatureAtLeast = TimeSpan.FromHours(v) } }),
        Of("sensor-silent", "silent-gravity-intervals", "", 2, 200, 0, s => s.SensorSilent.GravityIntervals, (s, v) => s with { SensorSilent = s.SensorSilent with { GravityIntervals = v } }),
        Of("sensor-silent", "silent-gravity", "h", 0.5, 168, 2, s => s.SensorSilent.GravityAtLeast.TotalHours, (s, v) => s with { SensorSilent = s.SensorSilent with { GravityAtLeast = TimeSpan.FromHours(v) } }),
        Of("sensor-silent", "silent-habit", "h", 0, 24, 2, s => s.SensorSilent.HabitAtMost.TotalHours, (s, v) => s with { SensorSilent = s.SensorSilent with { HabitAtMost = TimeSpan.FromHours(v) } }));

    /// <summary>The limits in the order of the form, those of the gates last.</summary>
    public static ValueList<AlertLimit> All { get; } = ValueList.Of<AlertLimit>([.. OfRules, .. GateLimits.All]);

    private static readonly FrozenDictionary<string, AlertLimit> ByName = All.ToFrozenDictionary(limit => limit.Field.Name, StringComparer.Ordinal);

    /// <summary>Names of limits of which the first must lie below the second.</summary>
    public static ValueList<(string Lower, string Upper)> Ordered { get; } = ValueList.Of(
        ("limit-danger-freezing", "limit-danger-hot"),
        ("limit-stuck-clear", "limit-stuck-raise"),
        ("limit-ph-urgent", "limit-ph-below"),
        ("limit-ph-below", "limit-ph-clear"),
        ("limit-battery-days", "limit-battery-clear"),
        ("limit-sentinel-look-1", "limit-sentinel-look-2"),
        ("limit-sentinel-look-2", "limit-sentinel-look-3"),
        ("limit-sentinel-look-3", "limit-sentinel-look-4"),
        ("limit-sentinel-look-4", "limit-sentinel-look-5"),
        ("limit-gate-gross-lees", "limit-care-gross-lees"),
        ("limit-gate-clean-lees", "limit-care-clean-lees"),
        ("limit-gate-least-loss", "limit-gate-most-loss"));

    /// <summary>The limit of that name, or null.</summary>
    public static AlertLimit? Find(string name) => ByName.GetValueOrDefault(name);

    private static AlertSettings Look(AlertSettings settings, int index, double day) =>
        settings with { Sentinel = settings.Sentinel with { Days = ValueList.Of(settings.Sentinel.Days.Select((one, i) => i == index ? (int)Math.Round(day) : one)) } };

    private static AlertLimit Of(string rule, string name, string unit, double low, double high, int digits, Func<AlertSettings, double> of, Func<AlertSettings, double, AlertSettings> with) =>
        new(rule, new JournalField("limit-" + name, FieldShape.Number, false) { Unit = unit, Low = low, High = high, Digits = digits }, of, with);
}
