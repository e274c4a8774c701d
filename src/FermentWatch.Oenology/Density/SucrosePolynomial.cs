namespace FermentWatch.Oenology.Density;

/// <summary>The bare numbers behind <see cref="SucroseSolution"/>, for solvers that call them thousands of times.</summary>
internal static class SucrosePolynomial
{
    /// <summary>Lowest mass fraction at which the inverse looks. [g/g]</summary>
    public const double LowestMassFraction = -0.12;

    /// <summary>Highest mass fraction at which the inverse looks. [g/g]</summary>
    public const double HighestMassFraction = 0.85;

    /// <summary>Density of water in this formula at 20 °C. Ratios are formed inside one formula. [kg/m³]</summary>
    public static readonly double WaterAt20 = WaterKilogramsPerCubicMeter(20);

    private static readonly double[] Order0 = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];

    private static readonly double[] Order1 = [-46.2720, -7.1720, 1.1597, 5.1126, 17.5254];

    private static readonly double[] Order2 = [59.7712, 7.2491, 12.3630, -35.4791];

    private static readonly double[] Order3 = [-47.2207, -21.6977, 27.6301];

    private static readonly double[] Order4 = [18.3184, 12.3081];

    /// <summary>ρ(w, t). [kg/m³]</summary>
    public static double KilogramsPerCubicMeter(double massFraction, double celsius)
    {
        var warmth = (celsius - 20) / 100;
        var sum = PowersFromFirst(Order4, massFraction);
        sum = (sum * warmth) + PowersFromFirst(Order3, massFraction);
        sum = (sum * warmth) + PowersFromFirst(Order2, massFraction);
        sum = (sum * warmth) + PowersFromFirst(Order1, massFraction);
        sum = (sum * warmth) + PowersFromFirst(Order0, massFraction);
        return WaterKilogramsPerCubicMeter(celsius) + sum;
    }

    /// <summary>ρ(w, 20)/ρ(0, 20).</summary>
    public static double GravityAt20(double massFraction) => 1 + (PowersFromFirst(Order0, massFraction) / WaterAt20);

    /// <summary>c = w·ρ(w, 20). [g/L]</summary>
    public static double GramsPerLiterAt20(double massFraction) =>
        massFraction * (WaterAt20 + PowersFromFirst(Order0, massFraction));

    /// <summary>w from the gravity at 20 °C, held to the range above.</summary>
    public static double MassFractionOfGravity(double gravity)
    {
        var wanted = (gravity - 1) * WaterAt20;
        var massFraction = Math.Clamp(wanted / 420, LowestMassFraction, HighestMassFraction);
        for (var i = 0; i < 30; i++)
        {
            var step = (PowersFromFirst(Order0, massFraction) - wanted) / Slope(massFraction);
            var next = Math.Clamp(massFraction - step, LowestMassFraction, HighestMassFraction);
            if (Math.Abs(next - massFraction) < 1e-15)
            {
                return next;
            }

            massFraction = next;
        }

        return massFraction;
    }

    /// <summary>Specific gravity 20/20 of a solution with so many grams in a liter.</summary>
    public static double GravityOfGramsPerLiter(double gramsPerLiter)
    {
        var massFraction = Math.Clamp(gramsPerLiter / 1000, LowestMassFraction, HighestMassFraction);
        for (var i = 0; i < 30; i++)
        {
            var density = WaterAt20 + PowersFromFirst(Order0, massFraction);
            var step = ((massFraction * density) - gramsPerLiter) / (density + (massFraction * Slope(massFraction)));
            var next = Math.Clamp(massFraction - step, LowestMassFraction, HighestMassFraction);
            if (Math.Abs(next - massFraction) < 1e-14)
            {
                massFraction = next;
                break;
            }

            massFraction = next;
        }

        return GravityAt20(massFraction);
    }

    private static double Slope(double massFraction)
    {
        var slope = 0.0;
        for (var j = Order0.Length; j >= 1; j--)
        {
            slope = (slope * massFraction) + (j * Order0[j - 1]);
        }

        return slope;
    }

    private static double PowersFromFirst(double[] coefficients, double x)
    {
        var sum = 0.0;
        for (var j = coefficients.Length - 1; j >= 0; j--)
        {
            sum = (sum + coefficients[j]) * x;
        }

        return sum;
    }

    private static double WaterKilogramsPerCubicMeter(double celsius)
    {
        var numerator = -281.03006e-12;
        numerator = (numerator * celsius) + 105.84601e-9;
        numerator = (numerator * celsius) - 46.241757e-6;
        numerator = (numerator * celsius) - 7.9905127e-3;
        numerator = (numerator * celsius) + 16.952577;
        numerator = (numerator * celsius) + 999.83952;
        return numerator / (1 + (16.887236e-3 * celsius));
    }
}
