using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Gathers kept readings into bins of time that stand on a fixed grid, so that a new reading changes its own bin only.</summary>
internal static class GravityBins
{
    private const double LeastDeviation = 0.5;

    /// <summary>Bins of the samples, which are in time order; a bin never reaches across added sugar.</summary>
    public static ValueList<GravityPoint> Of(List<GravitySample> samples, IReadOnlyList<SugarRise> sugar)
    {
        var points = new List<GravityPoint>();
        if (samples.Count == 0)
        {
            return ValueList.Of(points);
        }

        var width = BinWidth.For(samples[0].At, samples[^1].At, sugar.Count + 2);
        var segment = 0;
        var from = 0;
        for (var i = 0; i < samples.Count; i++)
        {
            var startsSegment = false;
            while (segment < sugar.Count && samples[i].At >= sugar[segment].At)
            {
                segment++;
                startsSegment = true;
            }

            if (i > from && (startsSegment || BinWidth.Slot(samples[i].At, width) != BinWidth.Slot(samples[from].At, width)))
            {
                points.Add(Mean(samples, from, i));
                from = i;
            }
        }

        points.Add(Mean(samples, from, samples.Count));
        return ValueList.Of(points);
    }

    /// <summary>A gravity from points; what lies outside of what can be built is shown at the limit.</summary>
    public static SpecificGravity ToGravity(double points) =>
        SpecificGravity.FromRatio(Math.Clamp(1 + (points / 1000), SpecificGravity.Lowest, SpecificGravity.Highest));

    private static GravityPoint Mean(List<GravitySample> samples, int from, int until)
    {
        var count = until - from;
        if (count == 1)
        {
            return new GravityPoint(samples[from].At, ToGravity(samples[from].Points), 1);
        }

        Span<double> values = count <= 128 ? stackalloc double[count] : new double[count];
        for (var i = 0; i < count; i++)
        {
            values[i] = samples[from + i].Points;
        }

        var median = Hampel.MedianInPlace(values);
        var reach = Math.Max(LeastDeviation, 3 * Hampel.ScaleInPlace(values));
        var (sum, time, used) = (0.0, 0.0, 0);
        var origin = samples[from].At.UnixMicroseconds;
        for (var i = from; i < until; i++)
        {
            if (count <= 2 || Math.Abs(samples[i].Points - median) <= reach)
            {
                sum += samples[i].Points;
                time += samples[i].At.UnixMicroseconds - origin;
                used++;
            }
        }

        return new GravityPoint(new EventTime(origin + (long)Math.Round(time / used)), ToGravity(sum / used), used);
    }
}

/// <summary>Widths of bins: the narrowest of a fixed row of widths with which a span has at most 1,000 bins.</summary>
internal static class BinWidth
{
    /// <summary>Most bins of a quantity in a view.</summary>
    public const int MostBins = 1000;

    private const long Minute = 60_000_000;

    private static readonly long[] Widths =
        [15 * Minute, 30 * Minute, 60 * Minute, 120 * Minute, 240 * Minute, 480 * Minute, 1440 * Minute, 2 * 1440 * Minute, 7 * 1440 * Minute];

    /// <summary>Width for a span, leaving room for <paramref name="spare"/> bins cut short. [microseconds]</summary>
    public static long For(EventTime first, EventTime last, int spare)
    {
        var room = Math.Max(1, MostBins - spare);
        var span = last.UnixMicroseconds - first.UnixMicroseconds;
        foreach (var width in Widths)
        {
            if (span / width < room)
            {
                return width;
            }
        }

        return (span / room) + Minute;
    }

    /// <summary>Number of the bin in which a time lies.</summary>
    public static long Slot(EventTime at, long width) =>
        at.UnixMicroseconds >= 0 ? at.UnixMicroseconds / width : ((at.UnixMicroseconds + 1) / width) - 1;
}
