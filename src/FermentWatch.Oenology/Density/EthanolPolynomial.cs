namespace FermentWatch.Oenology.Density;

/// <summary>The bare numbers behind <see cref="EthanolSolution"/>: the general formula of the alcoholometric tables.</summary>
internal static class EthanolPolynomial
{
    /// <summary>Density of water in this formula at 20 °C. Ratios are formed inside one formula. [kg/m³]</summary>
    public const double WaterAt20 = 998.20123;

    /// <summary>Density of ethanol in this formula at 20 °C, the sum of the first row: a test holds the two together. [kg/m³]</summary>
    public const double EthanolAt20 = 789.2391233;

    private static readonly double[] Mass =
    [
        -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042,
        -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
    ];

    private static readonly double[] Warmth =
        [-0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11];

    private static readonly double[] Mixed1 =
    [
        0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045, -12101.64659068747,
        22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137, 1285.617841998974,
    ];

    private static readonly double[] Mixed2 =
    [
        -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014, 109.635566657757,
        -142.2753946421155, 108.043594285623, -44.14153236817392, 7.442971530188783,
    ];

    private static readonly double[] Mixed3 =
    [
        -0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922, -2.895696483903638, 4.810060584300675,
        -4.672147440794683, 2.458043105903461, -0.5411227621436812,
    ];

    private static readonly double[] Mixed4 =
        [4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06];

    private static readonly double[] Mixed5 = [-2.788074354782409e-08, 1.345612883493354e-08];

    /// <summary>ρ(p, t), p the mass fraction. [kg/m³]</summary>
    public static double KilogramsPerCubicMeter(double massFraction, double celsius)
    {
        var t = celsius - 20;
        var mixed = PowersFromFirst(Mixed5, massFraction) * t;
        mixed = (mixed + PowersFromFirst(Mixed4, massFraction)) * t;
        mixed = (mixed + PowersFromFirst(Mixed3, massFraction)) * t;
        mixed = (mixed + PowersFromFirst(Mixed2, massFraction)) * t;
        mixed = (mixed + PowersFromFirst(Mixed1, massFraction)) * t;
        return KilogramsPerCubicMeterAt20(massFraction) + PowersFromFirst(Warmth, t) + mixed;
    }

    /// <summary>ρ(p, 20). [kg/m³]</summary>
    public static double KilogramsPerCubicMeterAt20(double massFraction) => WaterAt20 + PowersFromFirst(Mass, massFraction);

    /// <summary>q = p·ρ(p, 20)/ρ(1, 20), the volume fraction at 20 °C.</summary>
    public static double VolumeFraction(double massFraction) =>
        massFraction * KilogramsPerCubicMeterAt20(massFraction) / EthanolAt20;

    /// <summary>p from q: the inverse of <see cref="VolumeFraction"/>, held to 0 to 1.</summary>
    public static double MassFraction(double volumeFraction)
    {
        var wanted = Math.Clamp(volumeFraction, 0, 1) * EthanolAt20;
        var massFraction = wanted / (WaterAt20 - (0.15 * wanted));
        for (var i = 0; i < 40; i++)
        {
            var density = KilogramsPerCubicMeterAt20(massFraction);
            var step = ((massFraction * density) - wanted) / (density + (massFraction * SlopeAt20(massFraction)));
            var next = Math.Clamp(massFraction - step, 0, 1);
            if (Math.Abs(next - massFraction) < 1e-15)
            {
                return next;
            }

            massFraction = next;
        }

        return massFraction;
    }

    private static double SlopeAt20(double massFraction)
    {
        var slope = 0.0;
        for (var k = Mass.Length; k >= 1; k--)
        {
            slope = (slope * massFraction) + (k * Mass[k - 1]);
        }

        return slope;
    }

    private static double PowersFromFirst(double[] coefficients, double x)
    {
        var sum = 0.0;
        for (var k = coefficients.Length - 1; k >= 0; k--)
        {
            sum = (sum + coefficients[k]) * x;
        }

        return sum;
    }
}
