using FermentWatch.Oenology.Quantities;
using MassDensity = FermentWatch.Oenology.Quantities.Density;

namespace FermentWatch.Oenology.Density;

/// <summary>Pure water, the other half of every specific gravity.</summary>
public static class Water
{
    /// <summary>Density of water at 20 °C by <see cref="DensityAt"/>: what a specific gravity 20/20 °C is taken against. [kg/m³]</summary>
    public const double KilogramsPerCubicMeterAt20Celsius = 998.2067;

    private const double A1 = -3.983035;
    private const double A2 = 301.797;
    private const double A3 = 522528.9;
    private const double A4 = 69.34881;
    private const double A5 = 999.974950;
    private const double LowestCelsius = 0;
    private const double HighestCelsius = 40;
    private const double ToleranceKilogramsPerCubicMeter = 0.005;

    /// <summary>Density of air-free water at 101.325 kPa. [kg/m³]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> ρ(t) = a₅·[1 − (t + a₁)²·(t + a₂) / (a₃·(t + a₄))], t in °C on ITS-90.</para>
    /// <para><b>Valid.</b> 0 to 40 °C. Outside: still computed (the temperature held to -20 to 150 °C), marked
    /// <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.005 kg/m³, the widest gap to an independent equation ([Kell1975] on ITS-90) over the range,
    /// rounded up: 0.000 005 in specific gravity, 1/200 of a hydrometer division.</para>
    /// <para><b>Source.</b> [Tanaka2001]. <b>Check.</b> WaterTests.</para>
    /// </remarks>
    public static Computed<MassDensity> DensityAt(Temperature temperature)
    {
        var celsius = temperature.Celsius;
        var validity = celsius is >= LowestCelsius and <= HighestCelsius ? Validity.WithinSource : Validity.Extrapolated;
        return new(
            MassDensity.FromKilogramsPerCubicMeter(KilogramsPerCubicMeterAt(Math.Max(celsius, -20))),
            ToleranceKilogramsPerCubicMeter,
            validity);
    }

    private static double KilogramsPerCubicMeterAt(double celsius)
    {
        var fromMaximum = celsius + A1;
        return A5 * (1 - (fromMaximum * fromMaximum * (celsius + A2) / (A3 * (celsius + A4))));
    }
}
