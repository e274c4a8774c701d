namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Reduces a line to what a picture can show, keeping every peak.</summary>
internal static class Thinning
{
    /// <summary>At most two places in each column of one unit: the lowest and the highest, in order. First and last stay.</summary>
    public static IReadOnlyList<Spot> Of(IReadOnlyList<Spot> line, int columns)
    {
        if (line.Count <= columns * 2)
        {
            return line;
        }

        var kept = new List<Spot> { line[0] };
        foreach (var column in line.Skip(1).Take(line.Count - 2).GroupBy(spot => Math.Floor(spot.X)))
        {
            var (lowest, highest) = (column.MinBy(spot => spot.Y), column.MaxBy(spot => spot.Y));
            kept.Add(lowest.X <= highest.X ? lowest : highest);
            if (lowest != highest)
            {
                kept.Add(lowest.X <= highest.X ? highest : lowest);
            }
        }

        kept.Add(line[^1]);
        return kept;
    }
}
