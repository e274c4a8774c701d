using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>Gas of a ferment, and what it does to the air of a room.</summary>
public static class FermentationGas
{
    /// <summary>Carbon dioxide of the open air (common practice, no source: about 420). [ppm]</summary>
    public const double OutdoorPartsPerMillion = 420;

    /// <summary>The busiest day gives off this many times the mean day (common practice, no source).</summary>
    public const double PeakOverMean = 2;

    private const double GasConstantBarLiters = 0.08314462618;
    private const double RelativeError = 0.06;

    /// <summary>Volume of the gas that a ferment gives off. [L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> n = 0.4886 s V / 44.009, the ideal gas fills n R T / P.</para>
    /// <para><b>Valid.</b> Every temperature and pressure of a cellar.</para>
    /// <para><b>Error.</b> An upper bound: yeast and by-products take up to 6 %, and about 1.5 g/L stay dissolved. Ideal against real gas
    /// differs by 0.6 %. 20 L at 250 g/L: 1250 to 1335 L.</para>
    /// <para><b>Source.</b> Stoichiometry and the gas constant (exact). <b>Check.</b> FermentationGasTests.</para>
    /// </remarks>
    /// <param name="must">Volume that ferments.</param>
    /// <param name="hexose">Sugar that ferments, as glucose and fructose.</param>
    /// <param name="temperature">Of the room.</param>
    /// <param name="air">Absolute pressure of the air.</param>
    public static Computed<Volume> VolumeOf(Volume must, SugarConcentration hexose, Temperature temperature, Pressure air)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(air.Bar, nameof(air));
        var moles = CarbonDioxideYield.PerHexose * Math.Max(0, hexose.GramsPerLiter) * must.Liters / CarbonDioxideYield.MolarMassGrams;
        var liters = moles * GasConstantBarLiters * temperature.Kelvin / air.Bar;
        return new(Volume.FromLiters(Math.Min(liters, 100_000)), RelativeError * liters, liters <= 100_000 ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Share of a closed room that the gas makes, when nothing leaves it. [ppm]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 10⁶ · gas / room, at most 10⁶. The air that the gas pushes out is not counted, which is on the high side by half
    /// the share: 4.45 % instead of 4.35 %.</para>
    /// <para><b>Valid.</b> A room with no exchange of air; the gas lies low, so near the floor there is more.</para>
    /// <para><b>Error.</b> That of the volume of gas and of the room. <b>Source.</b> Balance of volumes. <b>Check.</b> FermentationGasTests.</para>
    /// </remarks>
    /// <param name="gas">The gas.</param>
    /// <param name="roomCubicMeters">Volume of the room; above 0. [m³]</param>
    /// <exception cref="ArgumentOutOfRangeException">No room.</exception>
    public static double PartsPerMillion(Volume gas, double roomCubicMeters)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(roomCubicMeters);
        return Math.Min(1_000_000, 1_000_000 * gas.Liters / (1000 * roomCubicMeters));
    }

    /// <summary>Fresh air that keeps a room at a level on the busiest day. [m³/h]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Q = q / (level − open air), q = 2 · gas / (24 · days): in a steady state as much gas leaves as forms.</para>
    /// <para><b>Valid.</b> Air and gas mixed. <b>Error.</b> The factor 2 for the busiest day is common practice without a source: a warm must
    /// can give three times the mean. <b>Source.</b> Balance of volumes. <b>Check.</b> FermentationGasTests.</para>
    /// </remarks>
    /// <param name="gas">Gas of the whole ferment.</param>
    /// <param name="days">Days of the main ferment; above 0. [d]</param>
    /// <param name="levelPartsPerMillion">Level that is not to be passed; above that of the open air. [ppm]</param>
    /// <exception cref="ArgumentOutOfRangeException">No days, or a level at or below that of the open air.</exception>
    public static double FreshAirCubicMetersPerHour(Volume gas, double days, double levelPartsPerMillion)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(days);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(levelPartsPerMillion, OutdoorPartsPerMillion);
        var cubicMetersPerHour = PeakOverMean * gas.Liters / 1000 / (24 * days);
        return cubicMetersPerHour * 1_000_000 / (levelPartsPerMillion - OutdoorPartsPerMillion);
    }
}
