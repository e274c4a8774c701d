using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class ResponseSurfaceTests
{
    // liking = 8 - (x - 12)²/16 without noise: the summit is at 12 whatever each taster's own level is.
    [Fact]
    public void QuadraticLiking_HasItsSummitFoundWhateverTheTastersLevels()
    {
        var points = Panel(3, 0, 6, 12, 18).Select(point => point with { Liking = 8 - (Math.Pow(point.First - 12, 2) / 16) + (point.Taster == "t0" ? 1 : 0) }).ToList();
        var fit = ResponseSurface.Fit(points);
        Assert.Equal(SurfaceVerdict.BestInside, fit.Verdict);
        Assert.Equal(12, fit.BestFirst!.Value, 1e-9);
        Assert.Equal(1, fit.ShareExplained!.Value, 1e-12);
        Assert.Null(fit.BestSecond);
    }

    [Fact]
    public void RisingLiking_HasItsBestOutside() =>
        Assert.Equal(SurfaceVerdict.BestOutside, ResponseSurface.Fit([.. Panel(3, 0, 6, 12, 18).Select(point => point with { Liking = 3 + (point.First / 6) })]).Verdict);

    [Fact]
    public void ValleyInside_IsNoSummit() =>
        Assert.Equal(SurfaceVerdict.BestOutside, ResponseSurface.Fit([.. Panel(3, 0, 6, 12, 18).Select(point => point with { Liking = 3 + (Math.Pow(point.First - 9, 2) / 27) })]).Verdict);

    [Fact]
    public void TwoFactors_FindTheSummitOfAHill()
    {
        var points = new List<LikingPoint>();
        foreach (var (x, y) in new[] { (0.0, 0.0), (0, 1), (0, 2), (10, 0), (10, 1), (10, 2), (20, 0), (20, 1), (20, 2) })
        {
            points.Add(new("a", x, y, 8 - (Math.Pow(x - 12, 2) / 40) - (2 * Math.Pow(y - 0.8, 2))));
            points.Add(new("b", x, y, 7 - (Math.Pow(x - 12, 2) / 40) - (2 * Math.Pow(y - 0.8, 2))));
        }

        var fit = ResponseSurface.Fit(points);
        Assert.Equal(SurfaceVerdict.BestInside, fit.Verdict);
        Assert.Equal(12, fit.BestFirst!.Value, 1e-6);
        Assert.Equal(0.8, fit.BestSecond!.Value, 1e-6);
        Assert.Equal(6, fit.Coefficients.Length);
    }

    [Fact]
    public void TwoDoses_AreNotEnoughGlasses() =>
        Assert.Equal(SurfaceVerdict.NotEnoughGlasses, ResponseSurface.Fit(Panel(20, 0, 6)).Verdict);

    [Fact]
    public void FourCorners_AreNotEnoughForASurface() => Assert.Equal(
        SurfaceVerdict.NotEnoughGlasses,
        ResponseSurface.Fit([.. Enumerable.Range(0, 12).Select(index => new LikingPoint($"t{index / 4}", index % 4 / 2, index % 2, 5))]).Verdict);

    [Fact]
    public void OneTasterAndFourGlasses_AreNotEnoughTastings() =>
        Assert.Equal(SurfaceVerdict.NotEnoughTastings, ResponseSurface.Fit(Panel(1, 0, 6, 12, 18)).Verdict);

    // Likings that scatter without any relation to dose must not be taken for a curve more often than the level says.
    [Fact]
    public void PureNoise_IsSeldomTakenForACurve()
    {
        var random = new Random(20261125);
        var taken = Enumerable.Range(0, 400).Count(_ => ResponseSurface.Fit([.. Panel(3, 0, 6, 12, 18).Select(point => point with { Liking = 5 + Normal(random) })]).Verdict
            is SurfaceVerdict.BestInside or SurfaceVerdict.BestOutside);
        Assert.InRange(taken, 6, 38);
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static List<LikingPoint> Panel(int tasters, params double[] doses) =>
        [.. Enumerable.Range(0, tasters).SelectMany(taster => doses.Select(dose => new LikingPoint($"t{taster}", dose, 0, 5)))];
}
