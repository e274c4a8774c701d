namespace FermentWatch.Oenology.Quantities;

/// <summary>How far a computed value can be trusted to follow its source.</summary>
public enum Validity
{
    /// <summary>Inside the range of the source.</summary>
    WithinSource,

    /// <summary>Computed beyond the range of the source: shown, and said so.</summary>
    Extrapolated,
}

/// <summary>A computed value with its error in the same unit and its standing towards the source.</summary>
/// <typeparam name="T">The quantity.</typeparam>
/// <param name="Value">The value.</param>
/// <param name="Tolerance">Half-width of the stated error, in the unit that the quantity's main property has.</param>
/// <param name="Validity">Whether the inputs were inside the range of the source.</param>
public readonly record struct Computed<T>(T Value, double Tolerance, Validity Validity)
    where T : struct;
