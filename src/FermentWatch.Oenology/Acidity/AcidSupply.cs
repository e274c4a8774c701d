using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>An acid as it is bought: a powder of some purity, a liquid of some strength and density, lemon juice, a blend.</summary>
public sealed class AcidSupply
{
    /// <summary>Acid of lemon juice as citric, the reference strength of single-strength juice. [g/mL]</summary>
    /// <remarks>4.5 g in 100 g [CFR101.30], from memory; real fruit differs by 25 %.</remarks>
    public const double LemonJuiceGramsPerMilliliter = 0.045 * LemonJuiceDensity;

    private const double LemonJuiceDensity = 1.03;

    private AcidSupply(IReadOnlyList<AcidShare> acids, double? gramsPerMilliliter, double relativeError) =>
        (Acids, GramsPerMilliliter, RelativeError) = (acids, gramsPerMilliliter, relativeError);

    /// <summary>Pure, water-free acids in a gram of it. [g/g]</summary>
    public IReadOnlyList<AcidShare> Acids { get; }

    /// <summary>Density when it is dosed by volume; null for a powder. [g/mL]</summary>
    public double? GramsPerMilliliter { get; }

    /// <summary>Error of its strength as a share: 0.01 for a powder, 0.02 for a labelled liquid, 0.25 for lemon juice.</summary>
    public double RelativeError { get; }

    /// <summary>Equivalents of acid in a gram. [meq/g]</summary>
    public double MilliequivalentsPerGram => Acids.Sum(acid => 1000 * acid.Share / acid.Acid.GramsPerEquivalent);

    /// <summary>A powder.</summary>
    /// <param name="acid">The acid.</param>
    /// <param name="purity">Share of pure, water-free acid, above 0 up to 1: 1 for anhydrous, 0.914 for citric acid monohydrate.</param>
    public static AcidSupply Powder(WeakAcid acid, double purity = 1) => new([new(acid, Share(purity))], null, 0.01);

    /// <summary>A liquid such as lactic acid of 80 to 88 %.</summary>
    /// <param name="acid">The acid.</param>
    /// <param name="strength">Share of acid by mass, from the label.</param>
    /// <param name="gramsPerMilliliter">Density from the label, 0.8 to 2.</param>
    public static AcidSupply Liquid(WeakAcid acid, double strength, double gramsPerMilliliter)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(gramsPerMilliliter, 0.8);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(gramsPerMilliliter, 2);
        return new([new(acid, Share(strength))], gramsPerMilliliter, 0.02);
    }

    /// <summary>Lemon juice: citric acid with the flavor of lemon.</summary>
    public static AcidSupply LemonJuice() => new([new(WeakAcid.Citric, LemonJuiceGramsPerMilliliter / LemonJuiceDensity)], LemonJuiceDensity, 0.25);

    /// <summary>A blend of powders, in parts by mass.</summary>
    /// <param name="parts">Acids and their parts, each 0 or more and together above 0.</param>
    /// <exception cref="ArgumentException">No part above 0.</exception>
    public static AcidSupply Blend(params IReadOnlyList<(WeakAcid Acid, double Parts)> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var sum = parts.Sum(part => part.Parts);
        if (!(sum > 0) || parts.Any(part => part.Parts < 0))
        {
            throw new ArgumentException("Parts must be 0 or more, and one of them above 0.", nameof(parts));
        }

        return new([.. parts.Where(part => part.Parts > 0).Select(part => new AcidShare(part.Acid, part.Parts / sum))], null, 0.01);
    }

    /// <summary>Acids that a dose brings.</summary>
    /// <param name="gramsPerLiter">Grams of the supply in a liter of wine.</param>
    public AcidMixture MixtureOf(double gramsPerLiter) =>
        AcidMixture.OfGramsPerLiter([.. Acids.Select(acid => (acid.Acid, gramsPerLiter * acid.Share))]);

    /// <summary>What a dose changes: a liquid thins the wine, a powder's volume is left out (0.06 % for each g/L).</summary>
    /// <param name="gramsPerLiter">Grams of the supply for a liter of wine before the addition.</param>
    public AcidChange ChangeBy(double gramsPerLiter)
    {
        var dilution = GramsPerMilliliter is { } density ? 1 / (1 + (gramsPerLiter / density / 1000)) : 1;
        return new() { Added = MixtureOf(gramsPerLiter * dilution), Dilution = dilution };
    }

    /// <summary>Rise of the titratable acidity by a dose. [meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Σ 1000·c·share·n/M over the acids of the supply. <b>Valid.</b> End point 8.2.</para>
    /// <para><b>Error.</b> <see cref="RelativeError"/> of it. <b>Source.</b> Atomic masses. <b>Check.</b> AcidSupplyTests.</para>
    /// </remarks>
    public Computed<TitratableAcidity> RiseOf(double gramsPerLiter)
    {
        var rise = gramsPerLiter * MilliequivalentsPerGram;
        return new(TitratableAcidity.FromMilliequivalentsPerLiter(rise), RelativeError * rise, Validity.WithinSource);
    }

    /// <summary>Grams in a liter for a rise of the titratable acidity: the inverse of <see cref="RiseOf"/>. [g/L]</summary>
    public double GramsPerLiterFor(TitratableAcidity rise) => rise.MilliequivalentsPerLiter / MilliequivalentsPerGram;

    /// <summary>Grams in a liter that bring a batch to a pH. [g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The dose at which <see cref="AcidBuffer.After"/> gives the pH, by bisection: pH falls with the dose.</para>
    /// <para><b>Valid.</b> A wanted pH below that of the batch that 50 g/L of acid reach. Otherwise null.</para>
    /// <para><b>Error.</b> As that of the predicted change: half to almost twice the dose. So a first part, then measure.</para>
    /// <para><b>Source.</b> Charge balance. <b>Check.</b> AcidSupplyTests.</para>
    /// </remarks>
    public double? GramsPerLiterFor(AcidBuffer buffer, Ph wanted)
    {
        ArgumentNullException.ThrowIfNull(buffer);
        var most = 50 / Acids.Sum(acid => acid.Share);
        double After(double dose) => buffer.After(ChangeBy(dose)).Ph.Value.Value;

        if (wanted >= buffer.Measured.Ph || After(most) > wanted.Value)
        {
            return null;
        }

        var (low, high) = (0.0, most);
        for (var halving = 0; halving < 40; halving++)
        {
            var middle = (low + high) / 2;
            (low, high) = After(middle) > wanted.Value ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    private static double Share(double share)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(share);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(share, 1);
        return share;
    }
}

/// <summary>One acid in a supply.</summary>
/// <param name="Acid">Which.</param>
/// <param name="Share">Grams of it, pure and water-free, in a gram of the supply.</param>
public readonly record struct AcidShare(WeakAcid Acid, double Share);
