namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>A possible future: a filled line that thins as we know less. Its color stays full to the end, so that contrast holds.</summary>
internal static class Taper
{
    /// <summary>Path data of the line's outline, or an empty string for fewer than two different places.</summary>
    public static string Of(IReadOnlyList<Spot> line, double fromWidth, double toWidth)
    {
        if (line.Count < 2)
        {
            return "";
        }

        var upper = new List<Spot>(line.Count);
        var lower = new List<Spot>(line.Count);
        for (var i = 0; i < line.Count; i++)
        {
            var before = line[Math.Max(0, i - 1)];
            var after = line[Math.Min(line.Count - 1, i + 1)];
            var (dx, dy) = (after.X - before.X, after.Y - before.Y);
            var length = Math.Sqrt((dx * dx) + (dy * dy));
            if (length == 0)
            {
                continue;
            }

            var half = (fromWidth + ((toWidth - fromWidth) * i / (line.Count - 1))) / 2;
            var (nx, ny) = (-dy / length * half, dx / length * half);
            upper.Add(new Spot(line[i].X + nx, line[i].Y + ny));
            lower.Add(new Spot(line[i].X - nx, line[i].Y - ny));
        }

        if (upper.Count < 2)
        {
            return "";
        }

        lower.Reverse();
        return Fine(upper.Concat(lower)) + "Z";
    }

    // Two decimals: at one, an outline less than a unit wide would wobble.
    private static string Fine(IEnumerable<Spot> spots) =>
        "M" + string.Join(' ', spots.Select(spot => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{spot.X:0.##} {spot.Y:0.##}")));
}
