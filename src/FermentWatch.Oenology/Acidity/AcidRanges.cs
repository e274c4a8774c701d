namespace FermentWatch.Oenology.Acidity;

/// <summary>Where wines usually lie. A wine outside is unusual, not wrong.</summary>
public static class AcidRanges
{
    /// <summary>Lowest usual pH of wine.</summary>
    public const double LowestPh = 2.9;

    /// <summary>Highest usual pH of wine.</summary>
    public const double HighestPh = 3.9;

    /// <summary>Titratable acidity below which a table wine tastes flat [Pandell1999]. [g/L as tartaric]</summary>
    public const double LowestTasted = 4;

    /// <summary>Titratable acidity above which a table wine tastes sour [Pandell1999]. [g/L as tartaric]</summary>
    public const double HighestTasted = 10;

    /// <summary>pH above which more kinds of bacteria grow, and sulfite protects little [Oberholster2018].</summary>
    public const double BacteriaPh = 3.6;
}
