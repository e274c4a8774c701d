namespace FermentWatch.Oenology.Density;

/// <summary>Refractive index of water with sucrose and ethanol, 589 nm, 20 °C.</summary>
/// <remarks>
/// <para><b>Equation.</b> (n² − 1)/(n² + 2) = ρ·Σ wᵢ·rᵢ (Lorentz and Lorenz), ρ in kg/m³, w mass fractions; water by n = 1.33299,
/// ethanol r = 277.55e-6, sucrose r = (207.0 − 2.8 w)e-6 m³/kg. The three numbers are fitted to the tables of [CRC102].</para>
/// <para><b>Valid.</b> Sucrose to 60 % of mass, ethanol to 20 %. <b>Error.</b> 0.0001, the rounding of the tables.
/// Beyond: still computed, unmarked, for the bisections that use it. <b>Source.</b> [CRC102]. <b>Check.</b> RefractiveIndexTests.</para>
/// </remarks>
public static class RefractiveIndex
{
    private const double OfWater = 1.33299;
    private const double EthanolRefraction = 277.55e-6;
    private static readonly double WaterRefraction = Refraction(OfWater) / SucrosePolynomial.WaterAt20;

    /// <summary>n of a sucrose solution. Dimensionless.</summary>
    /// <param name="massFraction">Sucrose in a gram, 0 to 0.6. [g/g]</param>
    public static double OfSucrose(double massFraction) =>
        Of(massFraction, 0, SucrosePolynomial.GravityAt20(massFraction) * SucrosePolynomial.WaterAt20);

    /// <summary>n of a mixture. Dimensionless.</summary>
    /// <param name="sucrose">Sucrose in a gram, 0 to 0.6. [g/g]</param>
    /// <param name="ethanol">Ethanol in a gram, 0 to 0.2. [g/g]</param>
    /// <param name="kilogramsPerCubicMeter">Density at 20 °C.</param>
    public static double Of(double sucrose, double ethanol, double kilogramsPerCubicMeter)
    {
        var sum = kilogramsPerCubicMeter
            * (((1 - sucrose - ethanol) * WaterRefraction) + (ethanol * EthanolRefraction) + (sucrose * (207.0 - (2.8 * sucrose)) * 1e-6));
        return Math.Sqrt((1 + (2 * sum)) / (1 - sum));
    }

    /// <summary>What a refractometer with a Brix scale shows for an index, held to -12 to 85. [°Bx]</summary>
    /// <param name="index">n at 20 °C.</param>
    public static double BrixOf(double index)
    {
        var (low, high) = (SucrosePolynomial.LowestMassFraction, SucrosePolynomial.HighestMassFraction);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = OfSucrose(middle) < index ? (middle, high) : (low, middle);
        }

        return 50 * (low + high);
    }

    private static double Refraction(double index) => ((index * index) - 1) / ((index * index) + 2);
}
