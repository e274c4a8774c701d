using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Limits;

/// <summary>One limit: how much at most, who says so, and what stands behind it.</summary>
/// <param name="Law">Whose limit; <see cref="Law.Strictest"/> for one that no law gives.</param>
/// <param name="Highest">The most, counted with what is already there.</param>
/// <param name="Source">What stands behind the figure.</param>
public sealed record AdditiveLimit(Law Law, MassConcentration Highest, WorksheetSource Source);

/// <summary>An additive with its guard rails.</summary>
/// <param name="Additive">Which.</param>
/// <param name="Name">Its name in a sentence, with what the figure counts: "sorbic acid".</param>
/// <param name="Recommended">The most that is recommended; null when nothing below the absolute limit is.</param>
/// <param name="Absolute">Limits by law for what this wine is; empty when none is known.</param>
public sealed record AdditiveRule(
    Additive Additive,
    string Name,
    AdditiveLimit? Recommended,
    Func<DoseContext, IReadOnlyList<AdditiveLimit>> Absolute);
