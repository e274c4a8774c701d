using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>An acid of must, wine or mead: molar mass and thermodynamic dissociation constants.</summary>
/// <remarks>
/// <para>The constants are for 25 °C, water and ionic strength 0. Tartaric, citric, acetic: NIST critical constants as shipped with PHREEQC
/// [Minteq4]. Malic and lactic: NIST 46 [NIST46], from memory; lactic is confirmed by [Prenesti2012], 3.70 at ionic strength 0.05 against 3.69
/// by <see cref="Solvent"/>. Succinic: first constant of NIST 46; second 5.66, which is log K 5.319 of [Prenesti2012] at ionic
/// strength 0.05 brought to 0, between NIST 46 (5.64) and the ThermoChimie set (5.71). Gluconic 3.86: a handbook value (others print
/// 3.60), made uncertain by its lactones.</para>
/// </remarks>
public sealed class WeakAcid
{
    /// <summary>Describes an acid.</summary>
    /// <param name="code">Its name in lower case.</param>
    /// <param name="gramsPerMole">Molar mass, more than 0. [g/mol]</param>
    /// <param name="dissociation">pKa of each proton in rising order, 25 °C, ionic strength 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">The molar mass is not positive.</exception>
    /// <exception cref="ArgumentException">No constant, more than three, or not in rising order.</exception>
    public WeakAcid(string code, double gramsPerMole, params IReadOnlyList<double> dissociation)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(gramsPerMole);
        ArgumentNullException.ThrowIfNull(dissociation);
        if (dissociation.Count is < 1 or > 3 || dissociation.Zip(dissociation.Skip(1)).Any(pair => pair.First >= pair.Second))
        {
            throw new ArgumentException("One to three constants are needed, in rising order.", nameof(dissociation));
        }

        (Code, GramsPerMole, Dissociation) = (code, gramsPerMole, [.. dissociation]);
    }

    /// <summary>Tartaric acid: hard and linear in taste.</summary>
    public static WeakAcid Tartaric { get; } = new("tartaric", MolarMass.Of(4, 6, 6), 3.036, 4.366);

    /// <summary>Malic acid: green apple, rounder than citric; malolactic bacteria turn it into lactic acid.</summary>
    public static WeakAcid Malic { get; } = new("malic", MolarMass.Of(4, 6, 5), 3.459, 5.097);

    /// <summary>Citric acid: sharp, fresh, brief; bacteria can make vinegar and butter notes of it.</summary>
    public static WeakAcid Citric { get; } = new("citric", MolarMass.Of(6, 8, 7), 3.128, 4.761, 6.396);

    /// <summary>Lactic acid: soft and milky.</summary>
    public static WeakAcid Lactic { get; } = new("lactic", MolarMass.Of(3, 6, 3), 3.860);

    /// <summary>Succinic acid, formed by yeast: salty and bitter.</summary>
    public static WeakAcid Succinic { get; } = new("succinic", MolarMass.Of(4, 6, 4), 4.207, 5.66);

    /// <summary>Acetic acid: vinegar, volatile.</summary>
    public static WeakAcid Acetic { get; } = new("acetic", MolarMass.Of(2, 4, 2), 4.757);

    /// <summary>Gluconic acid, the main acid of honey, in slow balance with its lactones.</summary>
    public static WeakAcid Gluconic { get; } = new("gluconic", MolarMass.Of(6, 12, 7), 3.86);

    /// <summary>Carbonic acid, dissolved carbon dioxide: it counts as acid in a sample that was not degassed. Molar mass as CO₂.</summary>
    /// <remarks>Constants of phreeqc.dat, 6.352 and 10.329 [PHREEQC].</remarks>
    public static WeakAcid Carbonic { get; } = new("carbonic", MolarMass.Of(1, 0, 2), 6.352, 10.329);

    /// <summary>Every acid that stays in a degassed wine.</summary>
    public static IReadOnlyList<WeakAcid> All { get; } = [Tartaric, Malic, Citric, Lactic, Succinic, Acetic, Gluconic];

    /// <summary>Its name in lower case.</summary>
    public string Code { get; }

    /// <summary>Molar mass. [g/mol]</summary>
    public double GramsPerMole { get; }

    /// <summary>pKa of each proton in rising order, 25 °C, water, ionic strength 0.</summary>
    public IReadOnlyList<double> Dissociation { get; }

    /// <summary>How many protons a titration takes from it.</summary>
    public int Protons => Dissociation.Count;

    /// <summary>Molar mass over protons. [g/eq]</summary>
    public double GramsPerEquivalent => GramsPerMole / Protons;

    /// <summary>Rise of the titratable acidity by an addition that is titrated completely. [meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> meq/L = 1000 · c · n/M. As tartaric, 1 g/L gives 1.000 (tartaric), 1.119 (malic), 1.172 (citric), 0.833
    /// (lactic), 1.271 (succinic), 1.250 (acetic), 0.383 g/L (gluconic).</para>
    /// <para><b>Valid.</b> End point 8.2. To pH 7.0 the last proton of citric acid is titrated only in part: up to 5 % less.</para>
    /// <para><b>Error.</b> 1 % up to 8.2, from the definition of the end point.</para>
    /// <para><b>Source.</b> Atomic masses. <b>Check.</b> WeakAcidTests.</para>
    /// </remarks>
    /// <param name="added">Pure, water-free acid added.</param>
    public TitratableAcidity TitratableOf(MassConcentration added) =>
        TitratableAcidity.FromMilliequivalentsPerLiter(1000 * added.GramsPerLiter / GramsPerEquivalent);

    /// <inheritdoc/>
    public override string ToString() => Code;
}
