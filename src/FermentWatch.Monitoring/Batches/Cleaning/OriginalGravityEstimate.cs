using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Original gravity: as told, as measured by hand in the must, or as the first readings show it before they fall.</summary>
internal static class OriginalGravityEstimate
{
    /// <summary>Error of a hydrometer reading at home. [points] Common practice, no source.</summary>
    private const double HandError = 2;

    private const double LatestStart = 24;
    private const double StillLevel = 1.5;

    public static Computed<SpecificGravity>? Of(Batch batch, GravityPicture picture)
    {
        if (batch.OriginalGravity is { } told)
        {
            return new Computed<SpecificGravity>(told, HandError / 1000, Validity.WithinSource);
        }

        if (picture.Hand.BeforeInoculation.Count > 0)
        {
            return Result(picture.Hand.BeforeInoculation[^1].Points, HandError);
        }

        return FromMust(picture) ?? FromPlateau(batch, picture);
    }

    // A sensor that was in the must before the yeast.
    private static Computed<SpecificGravity>? FromMust(GravityPicture picture)
    {
        var values = new List<double>();
        foreach (var track in picture.Tracks)
        {
            for (var i = 0; i < track.Count; i++)
            {
                if (track.Marks[i] == Mark.BeforeInoculation && track.Hours[i] >= -LatestStart)
                {
                    values.Add(track.Points[i]);
                }
            }
        }

        if (values.Count < 3)
        {
            return null;
        }

        var array = values.ToArray();
        var level = Hampel.MedianInPlace(array);
        return Result(level, Math.Max(HandError, Hampel.ScaleInPlace(array)));
    }

    private static Computed<SpecificGravity>? FromPlateau(Batch batch, GravityPicture picture)
    {
        var points = picture.Points;
        if (points.Count == 0 || (points[0].At - batch.InoculatedAt).TotalHours is > LatestStart or < 0)
        {
            return null;
        }

        var plateau = new List<double>();
        Span<double> next = stackalloc double[3];
        for (var i = 0; i < points.Count && (points[i].At - batch.InoculatedAt).TotalHours <= 2 * LatestStart; i++)
        {
            var count = Math.Min(next.Length, points.Count - i);
            for (var j = 0; j < count; j++)
            {
                next[j] = points[i + j].Gravity.Points;
            }

            var level = plateau.Count == 0 ? double.NaN : Hampel.MedianInPlace(plateau.ToArray());
            if (Hampel.MedianInPlace(next[..count]) < level - StillLevel)
            {
                break;
            }

            plateau.Add(points[i].Gravity.Points);
        }

        // Few readings before the fall, or a late first one: part of the fall may lie before what we saw.
        var values = plateau.ToArray();
        var hoursLate = (points[0].At - batch.InoculatedAt).TotalHours;
        var error = values.Length < 4 || hoursLate > 6 ? 2.5 * HandError : HandError;
        var middle = Hampel.MedianInPlace(values);
        return Result(middle, Math.Max(error, Hampel.ScaleInPlace(values)));
    }

    private static Computed<SpecificGravity> Result(double points, double error) =>
        new(GravityBins.ToGravity(points), error / 1000, Validity.WithinSource);
}
