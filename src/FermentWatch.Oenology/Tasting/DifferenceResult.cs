namespace FermentWatch.Oenology.Tasting;

/// <summary>What a comparison of two samples came to.</summary>
/// <param name="Method">How they were compared.</param>
/// <param name="Tasters">Independent answers. Repeats by one person are not independent for showing sameness.</param>
/// <param name="Right">Right answers, or answers for the sample that was named more often.</param>
/// <param name="Level">Level asked for, such as 0.05.</param>
/// <param name="ProbabilityByChance">Chance of a count like this or a more telling one if nobody perceives anything.</param>
/// <param name="SmallestSignificant">Smallest count that reaches the level; null when none does.</param>
/// <param name="FewestTasters">Tasters with whom the level can be reached at all.</param>
/// <param name="ShareDetecting">Share of tasters that really perceived it, corrected for guessing; 0 for preferences.</param>
/// <param name="Verdict">What it says.</param>
public sealed record DifferenceResult(
    DifferenceMethod Method,
    int Tasters,
    int Right,
    double Level,
    double ProbabilityByChance,
    int? SmallestSignificant,
    int FewestTasters,
    double ShareDetecting,
    TastingVerdict Verdict);
