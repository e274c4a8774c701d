using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Sugar left and alcohol by mass balance, with the error of the original gravity and of added sugar counted in.</summary>
internal sealed record SugarBalance(Computed<SugarConcentration> SugarLeft, Computed<AlcoholByVolume> Alcohol)
{
    /// <summary>Error of the size of a rise that was read off the curve, as a share of it. Common practice, no source.</summary>
    private const double RiseError = 0.15;

    /// <summary>Error of what a weighed addition adds, as a share of it: the sugar in honey varies. Common practice, no source.</summary>
    private const double FeedingError = 0.08;

    private static readonly TimeSpan SameAddition = TimeSpan.FromHours(24);

    /// <summary>The balance at present, or null without an original or a present gravity.</summary>
    public static SugarBalance? Of(Computed<SpecificGravity>? original, GravityPicture gravity, IReadOnlyList<Feeding> fed)
    {
        if (original is not { } start || gravity.Present() is not { } points)
        {
            return null;
        }

        // Sugar added on the way counts as if it had been there from the start; the water and volume that came with it are not known.
        var (rises, error) = (0.0, start.Tolerance * start.Tolerance);
        foreach (var feeding in fed)
        {
            rises += feeding.Points;
            error += FeedingError * feeding.Points / 1000 * FeedingError * feeding.Points / 1000;
        }

        foreach (var rise in gravity.Sugar)
        {
            // What was weighed is known better than what shows in a curve that falls at the same time.
            if (fed.Any(feeding => (feeding.At - rise.At).Duration() <= SameAddition))
            {
                continue;
            }

            rises += rise.Points;
            error += RiseError * rise.Points / 1000 * RiseError * rise.Points / 1000;
        }

        var present = GravityBins.ToGravity(points);
        var whole = start.Value.Points + rises;
        var balance = MassBalance.Of(GravityBins.ToGravity(whole), present);
        var high = MassBalance.Of(GravityBins.ToGravity(whole + (1000 * Math.Sqrt(error))), present);
        var alcohol = Widened(balance.Alcohol.Tolerance, high.Alcohol.Value.Percent - balance.Alcohol.Value.Percent);
        var sugar = Widened(
            balance.SugarLeft.Tolerance,
            high.SugarLeft.Value.GramsPerLiter - balance.SugarLeft.Value.GramsPerLiter);
        return new SugarBalance(balance.SugarLeft with { Tolerance = sugar }, balance.Alcohol with { Tolerance = alcohol });
    }

    private static double Widened(double tolerance, double other) => Math.Sqrt((tolerance * tolerance) + (other * other));
}
