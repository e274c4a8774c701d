using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Says what a ferment is doing from a few hand readings.</summary>
/// <remarks>
/// Two readings are enough for a rate. Flat needs readings that agree over 7 days, over 14 for mead and below 16 °C; where no temperature
/// is known the reason says so. Limits are common practice, no source.
/// </remarks>
internal static class HandPhase
{
    /// <summary>Readings no farther apart than a division of a common hydrometer agree. [points]</summary>
    public const double AgreePoints = 1;

    /// <summary>Days over which readings must agree.</summary>
    public const double FlatDays = 7;

    /// <summary>The same for mead, and below <see cref="ColdCelsius"/>.</summary>
    public const double SlowFlatDays = 14;

    /// <summary>Below this ferments are slow enough to look flat. [°C]</summary>
    public const double ColdCelsius = 16;

    // A rounding of the instrument's own shows up in the last binary digit.
    private const double Rounding = 1e-6;

    // Readings of one evening say nothing about a rate.
    private const double LeastHours = 12;

    public static PhaseAssessment Assess(ForecastInput input, CurveData data)
    {
        var readings = Readings(input, data);
        if (readings.Count < 2)
        {
            return new PhaseAssessment(
                Phase.Unknown, Reason.Of("phase-unknown-too-few", new ReasonValue.Count(readings.Count), new ReasonValue.Count(2)), null);
        }

        var (last, before) = (readings[^1], readings[^2]);
        var rate = Rate(before, last);
        if (!data.Restarted && readings[0].Points - last.Points < PhaseJudge.LagFallPoints && rate < PhaseJudge.LagFallPoints)
        {
            return new PhaseAssessment(
                Phase.Lag, Reason.Of("phase-lag-no-fall-yet", new ReasonValue.Length(TimeSpan.FromHours(last.Hours))), rate / 1000);
        }

        var (agreeing, spread, count) = Agreeing(readings);
        if (count >= 2)
        {
            var celsius = NewestCelsius(input, agreeing);
            var days = input.Kind == FermentKind.Mead || celsius < ColdCelsius ? SlowFlatDays : FlatDays;
            var needed = new ReasonValue.Length(TimeSpan.FromDays(days));
            var apart = new ReasonValue.Length(agreeing);
            return agreeing.TotalDays >= days
                ? new PhaseAssessment(
                    Phase.Flat,
                    Reason.Of(
                        celsius is null ? "phase-flat-by-hand-temperature-unknown" : "phase-flat-by-hand",
                        new ReasonValue.Count(count), apart, new ReasonValue.Gravity(Math.Max(spread, 1) / 1000, true)),
                    rate / 1000)
                : new PhaseAssessment(Phase.Slowing, Reason.Of("phase-slowing-agree-by-hand", new ReasonValue.Count(count), apart, needed), rate / 1000);
        }

        var fastest = 0.0;
        for (var i = 1; i < readings.Count; i++)
        {
            fastest = Math.Max(fastest, Rate(readings[i - 1], readings[i]));
        }

        var perDay = new ReasonValue.Gravity(rate / 1000, true);
        return rate < PhaseJudge.SlowingPart * fastest
            ? new PhaseAssessment(Phase.Slowing, Reason.Of("phase-slowing", perDay, new ReasonValue.Gravity(fastest / 1000, true)), rate / 1000)
            : new PhaseAssessment(Phase.Active, Reason.Of("phase-active-by-hand", perDay, new ReasonValue.Length(TimeSpan.FromHours(last.Hours - before.Hours))), rate / 1000);
    }

    /// <summary>The readings at least half a day apart, the newest among them, after what was told of the must.</summary>
    private static List<(double Hours, double Points)> Readings(ForecastInput input, CurveData data)
    {
        var kept = new List<(double Hours, double Points)>();
        for (var i = data.Count - 1; i >= 0; i--)
        {
            if (kept.Count == 0 || kept[^1].Hours - data.Hours[i] >= LeastHours)
            {
                kept.Add((data.Hours[i], data.Points[i]));
            }
        }

        if (!data.Restarted && input.OriginalGravity is { } told && kept.Count > 0 && kept[^1].Hours >= LeastHours)
        {
            kept.Add((0, told.Points));
        }

        kept.Reverse();
        return kept;
    }

    /// <summary>How long the newest readings agree with each other, how far apart they lie, and how many they are.</summary>
    private static (TimeSpan Length, double Spread, int Count) Agreeing(List<(double Hours, double Points)> readings)
    {
        var (low, high) = (readings[^1].Points, readings[^1].Points);
        var first = readings.Count - 1;
        for (var i = readings.Count - 2; i >= 0; i--)
        {
            var (below, above) = (Math.Min(low, readings[i].Points), Math.Max(high, readings[i].Points));
            if (above - below > AgreePoints + Rounding)
            {
                break;
            }

            (low, high, first) = (below, above, i);
        }

        return (TimeSpan.FromHours(readings[^1].Hours - readings[first].Hours), high - low, readings.Count - first);
    }

    /// <summary>Mean temperature over the stretch, or null where none was measured.</summary>
    private static double? NewestCelsius(ForecastInput input, TimeSpan stretch)
    {
        var (sum, count) = (0.0, 0);
        foreach (var point in input.Temperature)
        {
            if (point.At <= input.AsOf && input.AsOf - point.At <= stretch + TimeSpan.FromDays(1))
            {
                sum += point.Temperature.Celsius;
                count++;
            }
        }

        return count == 0 ? null : sum / count;
    }

    private static double Rate((double Hours, double Points) before, (double Hours, double Points) after) =>
        (before.Points - after.Points) / (after.Hours - before.Hours) * 24;
}
