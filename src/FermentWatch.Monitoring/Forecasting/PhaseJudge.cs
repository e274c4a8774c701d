using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Says what a ferment is doing from its gravity alone.</summary>
/// <remarks>
/// Rates are slopes over a day. Flat is an equivalence test (see <see cref="SlopeTest"/>) over two to four days: the slope must be shown
/// to be small, which a mere absence of proof is not. Hand readings are judged by <see cref="HandPhase"/>. Limits are common practice, no source.
/// </remarks>
public static class PhaseJudge
{
    /// <summary>A slope shown to be smaller than this counts as flat. [points a day]</summary>
    public const double FlatLimitPerDay = 0.8;

    /// <summary>Below this part of the fastest rate so far the ferment is slowing.</summary>
    public const double SlowingPart = 0.3;

    /// <summary>Fall from the first level that ends the lag. [points]</summary>
    public const double LagFallPoints = 2.5;

    private const double SilentHours = 24;
    private const double RateHours = 24;
    private const int FewestPoints = 5;

    /// <summary>The phase as of <see cref="ForecastInput.AsOf"/>. No input throws.</summary>
    public static PhaseAssessment Assess(ForecastInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var data = CurveData.From(input);
        if (data.Count == 0)
        {
            return new PhaseAssessment(Phase.Unknown, Reason.Of("phase-unknown-no-readings"), null);
        }

        if (input.ByHand)
        {
            return HandPhase.Assess(input, data);
        }

        var silence = data.NowHours - data.Hours[^1];
        if (silence > SilentHours)
        {
            return new PhaseAssessment(
                Phase.Unknown, Reason.Of("phase-unknown-silent", new ReasonValue.Length(TimeSpan.FromHours(silence))), null);
        }

        if (SlopeOver(data, RateHours, FewestPoints, RateHours / 4) is not { } present)
        {
            return new PhaseAssessment(Phase.Unknown, NoSlopeBecause(data), null);
        }

        var rate = -present.Slope * 24;
        var perDay = new ReasonValue.Gravity(rate / 1000, true);
        var first = data.Restarted ? data.Points[0] : FirstLevel(input, data);
        var latest = CurveData.Median(data.Points.AsSpan(Math.Max(0, data.Count - 5)));
        if (!data.Restarted && first - latest < LagFallPoints && -(present.Slope + present.HalfWidth(0.9)) * 24 < FlatLimitPerDay)
        {
            return new PhaseAssessment(
                Phase.Lag, Reason.Of("phase-lag-no-fall-yet", new ReasonValue.Length(TimeSpan.FromHours(data.NowHours))), rate / 1000);
        }

        foreach (var days in (ReadOnlySpan<double>)[4, 3, 2])
        {
            if (SlopeOver(data, days * 24, 10, days * 20) is { } window && window.IsWithin(FlatLimitPerDay / 24))
            {
                return new PhaseAssessment(
                    Phase.Flat,
                    Reason.Of(
                        "phase-flat-shown",
                        new ReasonValue.Length(TimeSpan.FromDays(days)),
                        new ReasonValue.Gravity((Math.Abs(window.Slope) + window.HalfWidth(0.9)) * 24 / 1000, true)),
                    rate / 1000);
            }
        }

        var fastest = Fastest(data);
        return rate < SlowingPart * fastest
            ? new PhaseAssessment(Phase.Slowing, Reason.Of("phase-slowing", perDay, new ReasonValue.Gravity(fastest / 1000, true)), rate / 1000)
            : new PhaseAssessment(Phase.Active, Reason.Of("phase-active", perDay), rate / 1000);
    }

    /// <summary>Told original gravity, or the median of the first readings, whichever is higher.</summary>
    private static double FirstLevel(ForecastInput input, CurveData data)
    {
        var seen = CurveData.Median(data.Points.AsSpan(0, Math.Min(5, data.Count)));

        // A hydrometer and a sensor differ by a few points: only a large difference says that the sensor came late.
        return input.OriginalGravity is { } told && told.Points > seen + 6 ? told.Points : seen;
    }

    private static Reason NoSlopeBecause(CurveData data)
    {
        var from = FirstAfter(data.Hours, data.Hours[^1] - RateHours);
        return data.Count - from < FewestPoints
            ? Reason.Of("phase-unknown-too-few", new ReasonValue.Count(data.Count - from), new ReasonValue.Count(FewestPoints))
            : Reason.Of("phase-unknown-too-short", new ReasonValue.Length(TimeSpan.FromHours(data.Hours[^1] - data.Hours[from])), new ReasonValue.Length(TimeSpan.FromHours(RateHours / 4)));
    }

    private static SlopeTest? SlopeOver(CurveData data, double hours, int fewest, double shortest)
    {
        var from = FirstAfter(data.Hours, data.Hours[^1] - hours);
        var count = data.Count - from;
        return count < fewest || data.Hours[^1] - data.Hours[from] < shortest
            ? null
            : SlopeTest.Through(data.Hours.AsSpan(from), data.Points.AsSpan(from));
    }

    /// <summary>Fastest fall over any day so far. [points a day]</summary>
    private static double Fastest(CurveData data)
    {
        var fastest = 0.0;
        for (var end = RateHours / 2; end <= data.Hours[^1] + 6; end += 6)
        {
            var from = FirstAfter(data.Hours, end - RateHours);
            var until = FirstAfter(data.Hours, end);
            if (until - from >= FewestPoints
                && data.Hours[until - 1] - data.Hours[from] >= RateHours / 3
                && SlopeTest.Through(data.Hours.AsSpan(from, until - from), data.Points.AsSpan(from, until - from)) is { } day)
            {
                fastest = Math.Max(fastest, -day.Slope * 24);
            }
        }

        return fastest;
    }

    private static int FirstAfter(double[] hours, double from)
    {
        var index = Array.BinarySearch(hours, from);
        return index >= 0 ? index : ~index;
    }
}
