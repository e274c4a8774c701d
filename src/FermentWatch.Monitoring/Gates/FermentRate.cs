using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Gates;

/// <summary>How fast gravity falls now, and how fast it ever fell, by sensor or by hand.</summary>
/// <param name="Now">Fall between the newest gravity and the one a day or more before it. [points/d]</param>
/// <param name="Fastest">The fastest fall over a day or more. [points/d]</param>
internal readonly record struct FermentRate(double Now, double Fastest)
{
    // Bins of a sensor scatter: over less than a day their noise would be the fastest fall.
    private static readonly TimeSpan Apart = TimeSpan.FromHours(20);

    /// <summary>The rates, or null with less than three gravities, or where nothing ever fell.</summary>
    public static FermentRate? Of(BatchView view)
    {
        var points = view.Gravity;
        var (now, fastest, before) = (0.0, 0.0, 0);
        for (var i = 0; i < points.Count; i++)
        {
            while (before + 1 < i && points[i].At - points[before + 1].At >= Apart)
            {
                before++;
            }

            if (points[i].At - points[before].At >= Apart)
            {
                now = (points[before].Gravity.Points - points[i].Gravity.Points) / (points[i].At - points[before].At).TotalDays;
                fastest = Math.Max(fastest, now);
            }
        }

        return points.Count >= 3 && fastest > 0 ? new FermentRate(Math.Max(0, now), fastest) : null;
    }
}
