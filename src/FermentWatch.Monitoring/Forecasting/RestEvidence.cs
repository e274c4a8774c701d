namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What the last days show about how fast gravity still falls.</summary>
/// <param name="FallPerDay">Likeliest fall, never negative. [points a day]</param>
/// <param name="MostPerDay">The fall that the readings cannot exceed (5 % error); infinite when they tell nothing. [points a day]</param>
/// <param name="Days">Length of the window that shows it.</param>
/// <param name="Level">Median of the last day. [points]</param>
internal readonly record struct RestEvidence(double FallPerDay, double MostPerDay, double Days, double Level)
{
    private const double LongDays = 3;
    private const int FewestPoints = 10;
    private const double RecentHours = 30;

    // A fall of the last day that this many errors tell from rest ends it, whatever the days before showed.
    private const double ClearErrors = 2.5;

    private const int FewestRecentPoints = 6;

    /// <summary>As <see cref="MostPerDay"/>, from windows of three days and more alone. [points a day]</summary>
    public double LongMostPerDay { get; private init; } = double.PositiveInfinity;

    /// <summary>Likeliest fall of the last half or whole day, whichever is less; infinite when they tell nothing. [points a day]</summary>
    public double RecentPerDay { get; private init; } = double.PositiveInfinity;

    /// <summary>The fall that the last half or whole day cannot exceed (5 % error). [points a day]</summary>
    public double RecentMostPerDay { get; private init; } = double.PositiveInfinity;

    /// <summary>Looks at windows of 2 to 6 days. The tightest one counts, unless the last day contradicts it.</summary>
    public static RestEvidence Of(CurveData data)
    {
        var level = data.Count == 0 ? 0 : CurveData.Median(data.Points.AsSpan(From(data, 24, 5)));
        var best = new RestEvidence(double.NaN, double.PositiveInfinity, 0, level);
        double longMost = double.PositiveInfinity, recentFall = double.PositiveInfinity, recentMost = double.PositiveInfinity;
        foreach (var days in (ReadOnlySpan<double>)[6, 5, 4, 3, 2])
        {
            if (Through(data, days * 24, FewestPoints) is { } slope)
            {
                var most = Most(slope);
                best = most < best.MostPerDay ? new RestEvidence(Math.Max(0, -slope.Slope * 24), most, days, level) : best;
                longMost = days >= LongDays ? Math.Min(longMost, most) : longMost;
            }
        }

        foreach (var days in (ReadOnlySpan<double>)[1, 0.5])
        {
            if (Through(data, days * 24, FewestRecentPoints) is { } slope)
            {
                recentFall = Math.Min(recentFall, -slope.Slope * 24);
                recentMost = Math.Min(recentMost, Most(slope));
            }
        }

        if (best.Days > 0 && Through(data, RecentHours, FewestPoints) is { } recent)
        {
            var excess = (-recent.Slope * 24) - best.FallPerDay;
            if (excess > ClearErrors * recent.HonestError * 24 && excess > 0.6)
            {
                return new RestEvidence(-recent.Slope * 24, double.PositiveInfinity, RecentHours / 24, level) { RecentPerDay = recentFall, RecentMostPerDay = recentMost };
            }
        }

        return best with { LongMostPerDay = longMost, RecentPerDay = recentFall, RecentMostPerDay = recentMost };
    }

    private static double Most(SlopeTest slope) => (Math.Max(0, -slope.Slope) + slope.HalfWidth(0.9)) * 24;

    private static SlopeTest? Through(CurveData data, double hours, int fewest)
    {
        if (data.Count == 0)
        {
            return null;
        }

        var first = From(data, hours, 0);
        return data.Count - first < fewest || data.Hours[^1] - data.Hours[first] < hours * 5 / 6
            ? null
            : SlopeTest.Through(data.Hours.AsSpan(first), data.Points.AsSpan(first));
    }

    private static int From(CurveData data, double hours, int fewest)
    {
        var first = Array.FindIndex(data.Hours, one => one >= data.Hours[^1] - hours);
        return Math.Clamp(first, 0, Math.Max(0, data.Count - fewest));
    }
}
