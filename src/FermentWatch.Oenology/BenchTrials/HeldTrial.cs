namespace FermentWatch.Oenology.BenchTrials;

/// <summary>When the jars of a held trial are tasted.</summary>
/// <param name="From">Earliest day.</param>
/// <param name="Until">Latest day.</param>
public sealed record HeldTrial(DateOnly From, DateOnly Until)
{
    /// <summary>Tannin needs at least this long to show (common practice, no source). [d]</summary>
    public const int LowestDays = 7;

    /// <summary>After this the jars tell more about the jars (common practice, no source). [d]</summary>
    public const int HighestDays = 14;

    /// <summary>The days for jars that are filled on this day.</summary>
    public static HeldTrial FilledOn(DateOnly day) => new(day.AddDays(LowestDays), day.AddDays(HighestDays));
}
