namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Chance dots: each stands in the column nearest to its value, stacked away from a line.</summary>
internal sealed record DotStack(IReadOnlyList<Spot> Offsets, double Radius, int Tallest)
{
    /// <summary>Room from the line to beyond the last dot.</summary>
    public double Height => Tallest * Pitch(Radius);

    /// <summary>Places of the dots by x, with y counted from the line; dots shrink until the tallest column fits.</summary>
    public static DotStack Of(IReadOnlyList<double> places, double radius, double room)
    {
        for (var r = radius; ; r *= 0.9)
        {
            var stack = Stacked(places, r);
            if (stack.Height <= room || r < 0.8)
            {
                return stack;
            }
        }
    }

    public void WriteBelow(PictureWriter svg, double line)
    {
        foreach (var dot in Offsets)
        {
            svg.Circle("dot", new Spot(dot.X, line + dot.Y), Radius);
        }
    }

    public void WriteAbove(PictureWriter svg, double line)
    {
        foreach (var dot in Offsets)
        {
            svg.Circle("dot", new Spot(dot.X, line - dot.Y), Radius);
        }
    }

    private static double Pitch(double radius) => (2 * radius) + 1;

    private static DotStack Stacked(IReadOnlyList<double> places, double radius)
    {
        var pitch = Pitch(radius);
        var heights = new Dictionary<long, int>();
        var offsets = new List<Spot>(places.Count);
        foreach (var place in places.Order())
        {
            var column = (long)Math.Round(place / pitch);
            var height = heights.GetValueOrDefault(column);
            heights[column] = height + 1;
            offsets.Add(new Spot(column * pitch, radius + 2.5 + (height * pitch)));
        }

        return new DotStack(offsets, radius, heights.Values.DefaultIfEmpty().Max());
    }
}
