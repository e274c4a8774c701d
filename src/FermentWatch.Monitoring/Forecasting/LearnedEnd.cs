using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>A batch of the maker's own that came to its end by itself.</summary>
/// <param name="Kind">Wine, mead or cider.</param>
/// <param name="OriginalGravity">Gravity before fermentation.</param>
/// <param name="FinalGravity">Gravity at which it rested.</param>
/// <param name="Tolerance">Alcohol tolerance of its yeast as the packet states it, or null.</param>
/// <param name="Finished">Odds that this was its end, 0 to 1: it counts by so much.</param>
public sealed record FinishedBatch(FermentKind Kind, SpecificGravity OriginalGravity, SpecificGravity FinalGravity, AlcoholByVolume? Tolerance, double Finished);

/// <summary>What the maker's finished batches of a kind say about where the next one ends.</summary>
/// <remarks>
/// <para><b>Equation.</b> The distance of an end from the kind's usual dry end is the maker's own (sugar, water, yeast and instruments of the
/// house) plus the batch's: normal with variances τ² = 0.6 s² and σ² = 0.4 s², s the shipped spread. Mean of the maker's part:
/// Σ w r / (Σ w + 1/τ²), w = odds/(σ² + 1.5²); its variance 1/(Σ w + 1/τ²). σ² grows where the ends scatter more than that (with 3 degrees of
/// freedom of its own), and never shrinks. The spread of the next end is the root of both.</para>
/// <para><b>Valid.</b> From two batches on. One that reached its yeast's tolerance says nothing about a dry end, one farther than three spreads
/// from the usual end was not dry, or another thing: both are left out. The spread never falls below 0.7 of the shipped one.
/// <b>Error.</b> The shares of the variance are guesses. <b>Check.</b> LearnedEndTests.</para>
/// </remarks>
/// <param name="Kind">The kind.</param>
/// <param name="Count">Batches that counted.</param>
/// <param name="ShiftPoints">By how much the usual dry end moves. [points]</param>
/// <param name="SpreadPoints">Standard deviation of the next dry end. [points]</param>
public sealed record LearnedEnd(FermentKind Kind, int Count, double ShiftPoints, double SpreadPoints)
{
    /// <summary>Fewest batches that say anything.</summary>
    public const int FewestBatches = 2;

    /// <summary>The narrowest spread as a part of the shipped one.</summary>
    public const double LeastSpreadPart = 0.7;

    private const double MakersShare = 0.6;
    private const double InstrumentPoints = 1.5;
    private const double FarSpreads = 3;
    private const double OwnFreedom = 3;
    private const double NearTolerancePercent = 1;

    /// <summary>What batches of a kind say; null when too few of them do.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="batches">Finished batches of any kind, in any order.</param>
    /// <param name="shipped">What is assumed without them.</param>
    public static LearnedEnd? Of(FermentKind kind, IEnumerable<FinishedBatch> batches, KindPrior shipped)
    {
        ArgumentNullException.ThrowIfNull(batches);
        ArgumentNullException.ThrowIfNull(shipped);
        var variance = shipped.DrySpread * shipped.DrySpread;
        var counted = batches
            .Where(batch => batch.Kind == kind && batch.Finished > 0.5 && !ReachedItsTolerance(batch))
            .Select(batch => (Away: batch.FinalGravity.Points - shipped.DryEnd(batch.OriginalGravity.Points), Odds: Math.Min(batch.Finished, 1)))
            .Where(one => Math.Abs(one.Away) <= FarSpreads * Math.Sqrt(variance + (InstrumentPoints * InstrumentPoints)))
            .Order()
            .ToList();
        if (counted.Count < FewestBatches)
        {
            return null;
        }

        var own = (1 - MakersShare) * variance;
        var mean = counted.Average(one => one.Away);
        var scatter = counted.Sum(one => (one.Away - mean) * (one.Away - mean)) - ((counted.Count - 1) * InstrumentPoints * InstrumentPoints);
        own = Math.Max(own, ((OwnFreedom * own) + Math.Max(scatter, 0)) / (OwnFreedom + counted.Count - 1));
        var weights = counted.Sum(one => one.Odds / (own + (InstrumentPoints * InstrumentPoints)));
        var certainty = weights + (1 / (MakersShare * variance));
        var shift = counted.Sum(one => one.Odds * one.Away) / (own + (InstrumentPoints * InstrumentPoints)) / certainty;
        return new LearnedEnd(kind, counted.Count, shift, Math.Max(Math.Sqrt(own + (1 / certainty)), LeastSpreadPart * shipped.DrySpread));
    }

    /// <summary>How it reads beside a forecast.</summary>
    internal Reason Because(KindPrior shipped, double originalPoints)
    {
        var usual = shipped.DryEnd(originalPoints);
        return Reason.Of("basis-own-batches", new ReasonValue.Count(Count), new ReasonValue.Gravity(1 + (usual / 1000)), new ReasonValue.Gravity(1 + ((usual + ShiftPoints) / 1000)));
    }

    private static bool ReachedItsTolerance(FinishedBatch batch) => batch.Tolerance is { } tolerance
        && FermentCurve.AlcoholOf(batch.OriginalGravity.Points - batch.FinalGravity.Points, batch.OriginalGravity.Points) > tolerance.Percent - NearTolerancePercent;
}
