using FermentWatch.Monitoring.Alerting;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Waiting times and limits of the gates. Common practice, no source: defaults, to be edited for a batch (<see cref="GateLimits"/>).</summary>
public sealed record GateSettings
{
    /// <summary>As shipped.</summary>
    public static GateSettings Default { get; } = new();

    /// <summary>Between two hand readings that agree.</summary>
    public TimeSpan BetweenReadings { get; init; } = TimeSpan.FromDays(7);

    /// <summary>The same for mead, and below <see cref="ColdCelsius"/>.</summary>
    public TimeSpan BetweenReadingsOfMead { get; init; } = TimeSpan.FromDays(14);

    /// <summary>Below this a week shows too little. [°C]</summary>
    public double ColdCelsius { get; init; } = 16;

    /// <summary>How far two readings with the same hydrometer may differ and agree. [points]</summary>
    public double AgreePoints { get; init; } = 1;

    /// <summary>
    /// Hand readings that stabilizing waits for once the sensor told that it is ready: 0 for none (turned off), 1 that agrees with the sensor, 2 for a hand
    /// series that is flat by itself.
    /// </summary>
    public int HandReadings { get; init; } = 1;

    /// <summary>Error of a hydrometer read at home, half-width of 95 %. [points]</summary>
    public double HydrometerErrorPoints { get; init; } = 2;

    /// <summary>Error of the sensor's level, half-width of 95 %. [points]</summary>
    public double SensorErrorPoints { get; init; } = 2;

    /// <summary>What needs its time, and how long: the same waits of which the alert <c>waiting-over</c> tells.</summary>
    public WaitingSettings Waits { get; init; } = new();

    /// <summary>How long lees may stay: the same times of which the alert <c>care-due</c> tells.</summary>
    public CareSettings Care { get; init; } = new();

    /// <summary>Part of the fastest fall below which a ferment is slow enough to be racked.</summary>
    public double RackBelowShare { get; init; } = 0.1;

    /// <summary>When the sentinel bottle is looked at: the same days of which the alert <c>sentinel-due</c> tells.</summary>
    public SentinelSettings Sentinel { get; init; } = new();

    /// <summary>A gauge on the sentinel that rose by more than this between two looks means gas. [bar]</summary>
    public double GaugeRiseBar { get; init; } = 0.2;

    /// <summary>From the end to racking off gross or fruit lees, at least; <see cref="CareSettings.GrossLees"/> at most.</summary>
    public TimeSpan GrossLeesAtLeast { get; init; } = TimeSpan.FromDays(7);

    /// <summary>The same off the clean lees of a mead without fruit; <see cref="CareSettings.CleanLees"/> at most.</summary>
    public TimeSpan CleanLeesAtLeast { get; init; } = TimeSpan.FromDays(14);

    /// <summary>The least part of the volume that stays with the lees.</summary>
    public double LeastLoss { get; init; } = 0.05;

    /// <summary>The most of it.</summary>
    public double MostLoss { get; init; } = 0.10;

    /// <summary>From stabilizing to sweetening, at least; the alert tells of it a day later.</summary>
    public TimeSpan AfterStabilizing { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A volume is 'of today' for so long.</summary>
    public TimeSpan VolumeWithin { get; init; } = TimeSpan.FromDays(1);

    /// <summary>Warm enough for a watch after sweetening: in the cold nothing would show. [°C]</summary>
    public double WatchCelsius { get; init; } = 18;

    /// <summary>Below this no time is long enough to pasteurize. [°C]</summary>
    public double HeatedCelsius { get; init; } = 60;

    /// <summary>Minutes at 60 °C that count as pasteurized.</summary>
    public double HeatedMinutes { get; init; } = 50;

    /// <summary>The widest pores that hold yeast and bacteria back. [µm]</summary>
    public double PoreMicrometers { get; init; } = 0.45;

    /// <summary>The warmest that counts as kept cold. [°C]</summary>
    public double KeptColdCelsius { get; init; } = 4;

    /// <summary>Over how long it must have been that cold.</summary>
    public TimeSpan ColdFor { get; init; } = TimeSpan.FromDays(7);

    /// <summary>Three hand readings over at least this, for bottling dry.</summary>
    public TimeSpan DryAndFlatOver { get; init; } = TimeSpan.FromDays(14);

    /// <summary>Below this sugar test a wine counts as dry. [g/L]</summary>
    public double DryGramsPerLiter { get; init; } = 2;

    /// <summary>Molecular sulfite wanted. [mg/L]</summary>
    public double MolecularMilligramsPerLiter { get; init; } = 0.8;

    /// <summary>Under whose limit total sulfur dioxide is held; none chosen is the strictest.</summary>
    public Law Law { get; init; } = Law.Strictest;

    /// <summary>A measured value older than this is asked for anew.</summary>
    public TimeSpan MeasuredWithin { get; init; } = TimeSpan.FromDays(14);

    /// <summary>What counts for a batch.</summary>
    /// <param name="limits">The settings with the batch's own limits.</param>
    /// <param name="law">The law chosen.</param>
    public static GateSettings For(AlertSettings limits, Law law)
    {
        ArgumentNullException.ThrowIfNull(limits);
        return limits.Gates with { Waits = limits.Waiting, Care = limits.Care, Sentinel = limits.Sentinel, Law = law };
    }
}
