using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>A carbonate that lowers acidity, with the two limits between which its effect lies.</summary>
public sealed class Carbonate
{
    private readonly int _protons;
    private readonly int _potassium;
    private readonly int _calcium;

    private Carbonate(string code, int potassium, int calcium, int hydrogen, int protons)
    {
        (Code, _potassium, _calcium, _protons) = (code, potassium, calcium, protons);
        GramsPerMole = (potassium * MolarMass.Potassium) + (calcium * MolarMass.Calcium) + MolarMass.Of(1, hydrogen, 3);
    }

    /// <summary>Potassium bicarbonate, KHCO₃.</summary>
    public static Carbonate PotassiumBicarbonate { get; } = new("potassium-bicarbonate", 1, 0, 1, 1);

    /// <summary>Potassium carbonate, K₂CO₃.</summary>
    public static Carbonate PotassiumCarbonate { get; } = new("potassium-carbonate", 2, 0, 0, 2);

    /// <summary>Calcium carbonate, CaCO₃: calcium tartrate settles over weeks, often in the bottle.</summary>
    public static Carbonate CalciumCarbonate { get; } = new("calcium-carbonate", 0, 1, 0, 2);

    /// <summary>Its name.</summary>
    public string Code { get; }

    /// <summary>Molar mass. [g/mol]</summary>
    public double GramsPerMole { get; }

    /// <summary>Fall of the titratable acidity for 1 g/L while no tartrate settles. [g/L as tartaric]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> n·75.04/M: KHCO₃ 0.750, K₂CO₃ 1.086, CaCO₃ 1.500.</para>
    /// <para><b>Valid.</b> As long as acid is left. <b>Error.</b> Purity of the powder.</para>
    /// <para><b>Source.</b> Stoichiometry as listed by [AWRI]; 0.49 g/L as sulfuric for 1 g/L KHCO₃ in [RibereauGayon2006] is the same.
    /// <b>Check.</b> CarbonateTests.</para>
    /// </remarks>
    public double FallWithoutSettling => _protons * WeakAcid.Tartaric.GramsPerEquivalent / GramsPerMole;

    /// <summary>Fall of the titratable acidity for 1 g/L when all potassium added settles as bitartrate in the cold. [g/L as tartaric]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> (n + K)·75.04/M, K potassium in the formula: KHCO₃ 1.499, K₂CO₃ 2.172, CaCO₃ 1.500: calcium tartrate takes
    /// no titratable acid with it.</para>
    /// <para><b>Valid.</b> Enough tartaric acid. Printed rules, 0.67 to 1.0 g/L of KHCO₃ for 1 g/L, lie between the limits.</para>
    /// <para><b>Error.</b> A limit, not an expectation. <b>Source.</b> Stoichiometry. <b>Check.</b> CarbonateTests.</para>
    /// </remarks>
    public double FallWithSettling => (_protons + _potassium) * WeakAcid.Tartaric.GramsPerEquivalent / GramsPerMole;

    /// <summary>Dose for a fall of the titratable acidity: least when everything settles, most when nothing does. [g/L]</summary>
    public (MassConcentration Least, MassConcentration Most) DoseFor(TitratableAcidity fall)
    {
        var tartaric = fall.GramsPerLiter(AcidBasis.Tartaric);
        return (MassConcentration.FromGramsPerLiter(tartaric / FallWithSettling), MassConcentration.FromGramsPerLiter(tartaric / FallWithoutSettling));
    }

    /// <summary>What a dose changes. [mol/L]</summary>
    /// <param name="dose">Carbonate in a liter of wine.</param>
    /// <param name="settled">Share of the added metal that settles as tartrate, from 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The share is outside 0 to 1.</exception>
    public AcidChange ChangeBy(MassConcentration dose, double settled)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(settled);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(settled, 1);
        var moles = dose.GramsPerLiter / GramsPerMole;
        return new()
        {
            CationMolesPerLiter = moles * _protons,
            BitartrateMolesPerLiter = moles * _potassium * settled,
            CalciumTartrateMolesPerLiter = moles * _calcium * settled,
        };
    }
}
