using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>A ferment drawn by a plain formula (Gompertz), not by the forecast's own curve, with correlated seeded noise.</summary>
internal sealed record DrawnFerment
{
    public static EventTime Inoculated { get; } = EventTime.From(new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero));

    public int Seed { get; init; } = 20260301;

    public double Start { get; init; } = 92;

    public double End { get; init; } = -4;

    public double LagHours { get; init; } = 50;

    public double PaceHours { get; init; } = 40;

    public double Noise { get; init; } = 0.5;

    public double Correlation { get; init; } = 0.5;

    public FermentKind Kind { get; init; } = FermentKind.Wine;

    public double? Told { get; init; } = 92;

    public double? Tolerance { get; init; } = 15;

    public double Celsius { get; init; } = 20;

    public ValueList<TimelineEvent> Events { get; init; } = ValueList.Of<TimelineEvent>();

    /// <summary>Extra points from an hour on: a knock or an addition of sugar.</summary>
    public (double Hours, double Points)? Step { get; init; }

    /// <summary>Gravity stops falling at this hour.</summary>
    public double StopHours { get; init; } = double.PositiveInfinity;

    public static TimelineEvent Journal(JournalKind kind, double hours) =>
        new(Inoculated + TimeSpan.FromHours(hours), kind, Reason.Of("journal-entry"));

    public double At(double hours)
    {
        var running = Math.Min(hours, StopHours);
        var done = Math.Exp(-Math.Exp(-(running - LagHours - (PaceHours / 2)) / PaceHours));
        return Start - ((Start - End) * done) + (Step is { } step && hours >= step.Hours ? step.Points : 0);
    }

    public ForecastInput Input(double nowHours, double everyHours = 0.5, double fromHours = 0.5)
    {
        var random = new Random(Seed);
        var (gravity, temperature, noise) = (new List<GravityPoint>(), new List<TemperaturePoint>(), 0.0);
        for (var hours = fromHours; hours <= nowHours; hours += everyHours)
        {
            var fresh = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            noise = (Correlation * noise) + (Noise * Math.Sqrt(1 - (Correlation * Correlation)) * fresh);
            var at = Inoculated + TimeSpan.FromHours(hours);
            gravity.Add(new GravityPoint(at, SpecificGravity.FromPoints(At(hours) + noise), 3));
            var liquid = Temperature.FromCelsius(Celsius + Math.Sin(hours * Math.PI / 12));
            temperature.Add(new TemperaturePoint(at, liquid, liquid, liquid));
        }

        return new ForecastInput(
            Kind,
            Inoculated,
            Told is { } told ? SpecificGravity.FromPoints(told) : null,
            Tolerance is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
            ValueList.Of<GravityPoint>(gravity),
            ValueList.Of<TemperaturePoint>(temperature),
            Events,
            PriorSnapshot.Shipped,
            Inoculated + TimeSpan.FromHours(nowHours));
    }
}
