using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What is assumed about ferments before any reading, as stored with each forecast.</summary>
/// <param name="Version">Name of the snapshot; <c>shipped-5</c> is the one that comes with the product.</param>
public sealed record PriorSnapshot(string Version)
{
    private static readonly KindPrior ShippedWine = new(92, 15, 6.5, 0.14, 2.2, 14, 2.3, 0.9, 30, 10, 4.5e-4);
    private static readonly KindPrior ShippedMead = new(100, 22, 3.8, 0.14, 3.5, 14, 2.3, 0.9, 36, 10, 4.5e-4);
    private static readonly KindPrior ShippedCider = new(50, 8, 4.5, 0.14, 1.5, 14, 2.3, 0.7, 36, 10, 4.5e-4);

    /// <summary>The wide assumptions that come with the product.</summary>
    public static PriorSnapshot Shipped { get; } = new("shipped-5");

    /// <summary>Assumptions for wine.</summary>
    public KindPrior Wine { get; init; } = ShippedWine;

    /// <summary>Assumptions for mead.</summary>
    public KindPrior Mead { get; init; } = ShippedMead;

    /// <summary>Assumptions for cider.</summary>
    public KindPrior Cider { get; init; } = ShippedCider;

    /// <summary>What the maker's own finished batches moved, at most one for a kind; empty in the shipped one.</summary>
    public ValueList<LearnedEnd> Learned { get; init; } = ValueList.Of<LearnedEnd>();

    /// <summary>The shipped assumptions, moved by what finished batches said; later batches change nothing in it.</summary>
    /// <param name="learned">By kind; of several of a kind the first counts.</param>
    public static PriorSnapshot With(IEnumerable<LearnedEnd> learned)
    {
        var kept = learned.DistinctBy(one => one.Kind).OrderBy(one => one.Kind).ToList();
        if (kept.Count == 0)
        {
            return Shipped;
        }

        KindPrior Moved(FermentKind kind) => kept.Find(one => one.Kind == kind) is { } own
            ? Shipped.For(kind) with { DryLevel = Shipped.For(kind).DryLevel + own.ShiftPoints, DrySpread = own.SpreadPoints }
            : Shipped.For(kind);
        return new PriorSnapshot(Shipped.Version + "-own")
        {
            Wine = Moved(FermentKind.Wine),
            Mead = Moved(FermentKind.Mead),
            Cider = Moved(FermentKind.Cider),
            Learned = ValueList.Of<LearnedEnd>(kept),
        };
    }

    /// <summary>What a maker's finished batches say about the next ones.</summary>
    public static PriorSnapshot Learn(IReadOnlyCollection<FinishedBatch> batches) =>
        With(Enum.GetValues<FermentKind>().Select(kind => LearnedEnd.Of(kind, batches, Shipped.For(kind))).OfType<LearnedEnd>());

    /// <summary>Assumptions for a kind.</summary>
    public KindPrior For(FermentKind kind) => kind switch
    {
        FermentKind.Mead => Mead,
        FermentKind.Cider => Cider,
        _ => Wine,
    };
}
