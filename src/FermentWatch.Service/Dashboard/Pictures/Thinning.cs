using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Reduces a line to what a picture can show, keeping every peak.</summary>
internal static class Thinning
{
    /// <summary>At most two places in each column of one unit: the lowest and the highest, in order. First and last stay.</summary>
    public static IReadOnlyList<Spot> Of(IReadOnlyList<Spot> line, int columns) =>
        line.Count <= columns * 2 ? line : Of(line, spot => Math.Floor(spot.X), spot => spot.Y);

    /// <summary>Points of a curve: at most two in each column of time, before anything is computed of them. First and last stay.</summary>
    /// <param name="line">The points, by time.</param>
    /// <param name="columns">How many columns the window has.</param>
    /// <param name="window">The window.</param>
    public static IReadOnlyList<GravityPoint> Of(IReadOnlyList<GravityPoint> line, int columns, CurveWindow window)
    {
        var column = (window.Until - window.From) / columns;
        return line.Count < 3 ? line : Of(line, point => Math.Floor((point.At - window.From) / column), point => point.Gravity.Value);
    }

    private static List<T> Of<T>(IReadOnlyList<T> line, Func<T, double> columnOf, Func<T, double> heightOf)
    {
        var kept = new List<T> { line[0] };
        for (var i = 1; i < line.Count - 1;)
        {
            var column = columnOf(line[i]);
            var (low, high) = (i, i);
            for (i++; i < line.Count - 1 && columnOf(line[i]).Equals(column); i++)
            {
                low = heightOf(line[i]) < heightOf(line[low]) ? i : low;
                high = heightOf(line[i]) > heightOf(line[high]) ? i : high;
            }

            kept.Add(line[Math.Min(low, high)]);
            if (low != high)
            {
                kept.Add(line[Math.Max(low, high)]);
            }
        }

        kept.Add(line[^1]);
        return kept;
    }
}
