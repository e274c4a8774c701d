using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.Tasting;

/// <summary>One liking of one glass by one taster.</summary>
/// <param name="Taster">Who.</param>
/// <param name="First">Dose of the first factor.</param>
/// <param name="Second">Dose of the second factor; 0 throughout when there is one factor.</param>
/// <param name="Liking">Points, 1 to 9.</param>
public sealed record LikingPoint(string Taster, double First, double Second, double Liking);

/// <summary>Whether a curve of liking over dose may be believed.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<SurfaceVerdict>))]
public enum SurfaceVerdict
{
    /// <summary>Too few different glasses for a curve: three doses for one factor, six combinations for two.</summary>
    NotEnoughGlasses,

    /// <summary>Too few tastings beside the curve's own numbers to tell it from noise.</summary>
    NotEnoughTastings,

    /// <summary>The curve explains no more than noise would.</summary>
    NotSignificant,

    /// <summary>Liking still rises at an edge of what was tried: the best lies outside, and the curve doesn't say where.</summary>
    BestOutside,

    /// <summary>A summit inside the doses that were tried.</summary>
    BestInside,
}

/// <summary>A fitted curve or surface of liking.</summary>
/// <param name="Verdict">Whether it may be believed. Only with <see cref="SurfaceVerdict.BestInside"/> is there a summit.</param>
/// <param name="Coefficients">b₀, b₁, b₁₁ for one factor; b₀, b₁, b₂, b₁₁, b₂₂, b₁₂ for two; in doses scaled to −1 … 1; empty when not fitted.</param>
/// <param name="ShareExplained">Share of the variation within tasters that it explains, 0 to 1; null when not fitted.</param>
/// <param name="Probability">Chance of explaining that much if liking did not depend on dose; null when not fitted.</param>
/// <param name="BestFirst">Dose of the first factor at the summit; null without one.</param>
/// <param name="BestSecond">Dose of the second factor at the summit; null without one.</param>
public sealed record SurfaceFit(
    SurfaceVerdict Verdict,
    ImmutableArray<double> Coefficients,
    double? ShareExplained,
    double? Probability,
    double? BestFirst,
    double? BestSecond);

/// <summary>Liking as a quadratic function of one or two doses, fitted only when the data allow it.</summary>
public static class ResponseSurface
{
    /// <summary>Tastings that must be left over beside the fitted numbers and the tasters' means (a rule of this product, no source).</summary>
    public const int FewestLeftOver = 4;

    /// <summary>Fits and judges.</summary>
    /// <param name="points">Every liking; repeats and twins included.</param>
    /// <remarks>
    /// <para><b>Equation.</b> liking = taster's mean + b₁x + b₁₁x² (one factor), and b₂y + b₂₂y² + b₁₂xy (two), by least squares on likings and
    /// terms from which each taster's mean was taken, so that a generous taster counts no more than a strict one. F test of all terms against
    /// the residual.</para>
    /// <para><b>Valid.</b> Inside the doses that were tried. <b>Source.</b> Textbook least squares. <b>Check.</b> ResponseSurfaceTests.</para>
    /// </remarks>
    public static SurfaceFit Fit(IReadOnlyList<LikingPoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        var hasSecond = points.Select(point => point.Second).Distinct().Count() > 1;
        var terms = hasSecond ? 5 : 2;
        if (points.Select(point => (point.First, point.Second)).Distinct().Count() < (hasSecond ? 6 : 3)
            || points.Select(point => point.First).Distinct().Count() < 3
            || (hasSecond && points.Select(point => point.Second).Distinct().Count() < 3))
        {
            return None(SurfaceVerdict.NotEnoughGlasses);
        }

        var tasters = points.GroupBy(point => point.Taster, StringComparer.Ordinal).ToList();
        var leftOver = points.Count - tasters.Count - terms;
        if (leftOver < FewestLeftOver)
        {
            return None(SurfaceVerdict.NotEnoughTastings);
        }

        var (first, second) = (DoseScale.Of(points.Select(point => point.First)), DoseScale.Of(points.Select(point => point.Second)));
        var rows = tasters.SelectMany(own => Centered([.. own.Select(point => (double[])[.. Terms(first.Scaled(point.First), second.Scaled(point.Second), hasSecond), point.Liking])])).ToList();
        if (LeastSquares.Solve(rows, terms) is not { } slopes)
        {
            return None(SurfaceVerdict.NotEnoughGlasses);
        }

        var total = rows.Sum(row => row[terms] * row[terms]);
        var residual = rows.Sum(row => Math.Pow(row[terms] - slopes.Select((slope, term) => slope * row[term]).Sum(), 2));
        var explained = total > 0 ? Math.Clamp(1 - (residual / total), 0, 1) : 0;
        var probability = explained >= 1 ? 0 : UpperTails.F(explained / terms / ((1 - explained) / leftOver), terms, leftOver);
        var level = points.Average(point => point.Liking) - slopes.Select((slope, term) => slope * points.Average(point => Terms(first.Scaled(point.First), second.Scaled(point.Second), hasSecond)[term])).Sum();
        var fit = new SurfaceFit(SurfaceVerdict.NotSignificant, [level, .. slopes], explained, probability, null, null);
        if (probability > DifferenceTest.UsualLevel)
        {
            return fit;
        }

        return Summit(slopes, hasSecond) is { } summit && Math.Abs(summit.X) < 1 && Math.Abs(summit.Y) < 1
            ? fit with
            {
                Verdict = SurfaceVerdict.BestInside,
                BestFirst = first.Dose(summit.X),
                BestSecond = hasSecond ? second.Dose(summit.Y) : null,
            }
            : fit with { Verdict = SurfaceVerdict.BestOutside };
    }

    private static SurfaceFit None(SurfaceVerdict verdict) => new(verdict, [], null, null, null, null);

    private static double[] Terms(double x, double y, bool hasSecond) => hasSecond ? [x, y, x * x, y * y, x * y] : [x, x * x];

    private static IEnumerable<double[]> Centered(List<double[]> own)
    {
        var means = Enumerable.Range(0, own[0].Length).Select(column => own.Average(row => row[column])).ToArray();
        return own.Select(row => row.Zip(means, (value, mean) => value - mean).ToArray());
    }

    // A summit needs a surface that falls in every direction.
    private static (double X, double Y)? Summit(double[] slopes, bool hasSecond)
    {
        if (!hasSecond)
        {
            return slopes[1] < 0 ? (-slopes[0] / (2 * slopes[1]), 0) : null;
        }

        var (b1, b2, b11, b22, b12) = (slopes[0], slopes[1], slopes[2], slopes[3], slopes[4]);
        var determinant = (4 * b11 * b22) - (b12 * b12);
        return b11 < 0 && determinant > 0
            ? (((b12 * b2) - (2 * b22 * b1)) / determinant, ((b12 * b1) - (2 * b11 * b2)) / determinant)
            : null;
    }

    private readonly record struct DoseScale(double Middle, double HalfRange)
    {
        public static DoseScale Of(IEnumerable<double> doses)
        {
            var all = doses.ToList();
            return new((all.Max() + all.Min()) / 2, Math.Max((all.Max() - all.Min()) / 2, double.Epsilon));
        }

        public double Scaled(double dose) => HalfRange > double.Epsilon ? (dose - Middle) / HalfRange : 0;

        public double Dose(double scaled) => Middle + (scaled * HalfRange);
    }
}
