using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What is assumed about ferments before any reading, as stored with each forecast.</summary>
/// <param name="Version">Name of the snapshot; <c>shipped-3</c> is the one that comes with the product.</param>
public sealed record PriorSnapshot(string Version)
{
    private static readonly KindPrior ShippedWine = new(92, 15, 6.2, 0.14, 2.2, 14, 2.3, 0.9, 30, 10, 4.5e-4);
    private static readonly KindPrior ShippedMead = new(100, 22, 3, 0.14, 3.5, 14, 2.3, 0.9, 36, 10, 4.5e-4);
    private static readonly KindPrior ShippedCider = new(50, 8, 5.6, 0.14, 1.5, 14, 2.3, 0.7, 36, 10, 4.5e-4);

    /// <summary>The wide assumptions that come with the product.</summary>
    public static PriorSnapshot Shipped { get; } = new("shipped-3");

    /// <summary>Assumptions for wine.</summary>
    public KindPrior Wine { get; init; } = ShippedWine;

    /// <summary>Assumptions for mead.</summary>
    public KindPrior Mead { get; init; } = ShippedMead;

    /// <summary>Assumptions for cider.</summary>
    public KindPrior Cider { get; init; } = ShippedCider;

    /// <summary>Assumptions for a kind.</summary>
    public KindPrior For(FermentKind kind) => kind switch
    {
        FermentKind.Mead => Mead,
        FermentKind.Cider => Cider,
        _ => Wine,
    };
}
