using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What is assumed about ferments before any reading, as stored with each forecast.</summary>
/// <param name="Version">Name of the snapshot; <c>shipped-2</c> is the one that comes with the product.</param>
public sealed record PriorSnapshot(string Version)
{
    private static readonly KindPrior ShippedWine = new(92, 15, 9.5, 0.175, 3, 14, 2.3, 0.9, 30, 10, 6e-4);
    private static readonly KindPrior ShippedMead = new(100, 22, 6, 0.175, 3.5, 14, 2.3, 0.9, 36, 10, 6e-4);
    private static readonly KindPrior ShippedCider = new(50, 8, 7.5, 0.175, 2, 14, 2.3, 0.7, 36, 10, 6e-4);

    /// <summary>The wide assumptions that come with the product.</summary>
    public static PriorSnapshot Shipped { get; } = new("shipped-2");

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
