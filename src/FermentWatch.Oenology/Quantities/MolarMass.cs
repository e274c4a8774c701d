namespace FermentWatch.Oenology.Quantities;

/// <summary>Molar masses from the standard atomic masses. [g/mol]</summary>
/// <remarks>H 1.008, C 12.011, O 15.999, Na 22.990, S 32.06, K 39.098, Ca 40.078: conventional values of IUPAC, rounded as printed.</remarks>
internal static class MolarMass
{
    public const double Hydrogen = 1.008;
    public const double Carbon = 12.011;
    public const double Oxygen = 15.999;
    public const double Sodium = 22.990;
    public const double Sulfur = 32.06;
    public const double Potassium = 39.098;
    public const double Calcium = 40.078;

    /// <summary>Molar mass of a compound of carbon, hydrogen and oxygen. [g/mol]</summary>
    public static double Of(int carbon, int hydrogen, int oxygen) => (carbon * Carbon) + (hydrogen * Hydrogen) + (oxygen * Oxygen);
}
