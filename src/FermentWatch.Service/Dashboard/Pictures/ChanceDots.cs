namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Equal chances as dots: as many as a picture shows, from the values that the odds gave.</summary>
internal static class ChanceDots
{
    /// <summary>
    /// The middle values of <paramref name="count"/> equally likely parts. Between the given values, which are the middles of their own
    /// equal parts, a straight line; beyond the outermost nothing is known, so that they stay the ends.
    /// </summary>
    /// <param name="ordered">Values in rising order, each as likely as the other.</param>
    /// <param name="count">How many dots.</param>
    public static IReadOnlyList<double> Of(IReadOnlyList<double> ordered, int count)
    {
        if (ordered.Count == 0 || ordered.Count == count)
        {
            return ordered;
        }

        var dots = new double[count];
        for (var i = 0; i < count; i++)
        {
            var place = ((i + 0.5) / count * ordered.Count) - 0.5;
            var below = Math.Clamp((int)Math.Floor(place), 0, ordered.Count - 1);
            var above = Math.Min(below + 1, ordered.Count - 1);
            var share = Math.Clamp(place - below, 0, 1);
            dots[i] = ordered[below] + ((ordered[above] - ordered[below]) * share);
        }

        return dots;
    }
}
