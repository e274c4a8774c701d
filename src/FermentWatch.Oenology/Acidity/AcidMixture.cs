namespace FermentWatch.Oenology.Acidity;

/// <summary>Acids dissolved in a liter, free and bound together.</summary>
public sealed class AcidMixture
{
    private readonly Dictionary<WeakAcid, double> _moles;

    private AcidMixture(Dictionary<WeakAcid, double> moles) => _moles = moles;

    /// <summary>Nothing.</summary>
    public static AcidMixture Empty { get; } = new([]);

    /// <summary>The acids and their amounts. [mol/L]</summary>
    public IReadOnlyDictionary<WeakAcid, double> MolesPerLiter => _moles;

    /// <summary>Builds a mixture. [g/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">An amount is negative or not finite.</exception>
    public static AcidMixture OfGramsPerLiter(params IReadOnlyList<(WeakAcid Acid, double GramsPerLiter)> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return parts.Aggregate(Empty, (mixture, part) => mixture.Plus(part.Acid, part.GramsPerLiter));
    }

    /// <summary>Amount of one acid, bound and free. [g/L]</summary>
    public double GramsPerLiterOf(WeakAcid acid) => _moles.GetValueOrDefault(acid) * acid.GramsPerMole;

    /// <summary>The mixture with more of one acid. [g/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Negative or not finite.</exception>
    public AcidMixture Plus(WeakAcid acid, double gramsPerLiter)
    {
        if (!double.IsFinite(gramsPerLiter) || gramsPerLiter < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(gramsPerLiter), gramsPerLiter, $"{acid} must be 0 g/L or more.");
        }

        return With(acid, _moles.GetValueOrDefault(acid) + (gramsPerLiter / acid.GramsPerMole));
    }

    /// <summary>The mixture with less of one acid: at most all of it goes. [mol/L]</summary>
    public AcidMixture MinusMoles(WeakAcid acid, double molesPerLiter) =>
        With(acid, Math.Max(0, _moles.GetValueOrDefault(acid) - Math.Max(0, molesPerLiter)));

    /// <summary>Every amount times a factor: dilution below 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The factor is negative.</exception>
    public AcidMixture Scaled(double factor)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(factor);
        return new(_moles.ToDictionary(part => part.Key, part => part.Value * factor));
    }

    private AcidMixture With(WeakAcid acid, double moles) => new(new Dictionary<WeakAcid, double>(_moles) { [acid] = moles });
}
