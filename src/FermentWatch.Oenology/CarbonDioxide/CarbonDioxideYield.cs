using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>Carbon dioxide and alcohol that a gram of sugar gives, from the equation of fermentation and the standard atomic masses.</summary>
/// <remarks>Theory, an upper bound: yeast and by-products take their share, and practice finds 0.46 to 0.47 g/g (from memory). For pressure
/// and for the air of a room the upper bound is the right side to err on.</remarks>
public static class CarbonDioxideYield
{
    /// <summary>Molar mass of carbon dioxide. [g/mol]</summary>
    public const double MolarMassGrams = MolarMass.Carbon + (2 * MolarMass.Oxygen);

    private const double Hexose = (6 * MolarMass.Carbon) + (12 * MolarMass.Hydrogen) + (6 * MolarMass.Oxygen);
    private const double Water = (2 * MolarMass.Hydrogen) + MolarMass.Oxygen;
    private const double Ethanol = (2 * MolarMass.Carbon) + (6 * MolarMass.Hydrogen) + MolarMass.Oxygen;

    /// <summary>Carbon dioxide of a gram of glucose or fructose, 0.4886. [g/g]</summary>
    public const double PerHexose = 2 * MolarMassGrams / Hexose;

    /// <summary>Carbon dioxide of a gram of sucrose, 0.5143. [g/g]</summary>
    public const double PerSucrose = 4 * MolarMassGrams / ((2 * Hexose) - Water);

    /// <summary>Carbon dioxide of a gram of dextrose with its water of crystallization, 0.4442. [g/g]</summary>
    public const double PerDextroseMonohydrate = 2 * MolarMassGrams / (Hexose + Water);

    /// <summary>Ethanol of a gram of glucose or fructose, 0.5114. [g/g]</summary>
    public const double EthanolPerHexose = 2 * Ethanol / Hexose;

    /// <summary>Carbon dioxide of a gram of malic acid that bacteria turn into lactic acid, 0.3282. [g/g]</summary>
    public const double PerMalicAcid = MolarMassGrams / ((4 * MolarMass.Carbon) + (6 * MolarMass.Hydrogen) + (5 * MolarMass.Oxygen));
}
