using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>Carbon dioxide dissolved in wine or mead, and the pressure that holds it there.</summary>
public static class CarbonDioxideSolubility
{
    /// <summary>Share of a dissolved amount or of a pressure that the stated error makes: 6 %.</summary>
    public const double RelativeError = 0.06;

    /// <summary>Grams of the gas in a liter at 0 °C and one atmosphere, as the method of analysis has it: 1.951 over 0.987. [g/L]</summary>
    public const double GramsPerVolume = 1.951 / 0.987;

    private const double LowestCelsius = 0;
    private const double HighestCelsius = 30;
    private const double HighestAlcoholPercent = 15;
    private const double HighestSugarGramsPerLiter = 150;
    private const double HighestBar = 8;

    /// <summary>Carbon dioxide at equilibrium with a pressure of the gas. [g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> c = P · k, k = 1.951 · (0.86 − 0.01 A) · (1 − 0.00144 S) · exp(2800 (1/T − 1/293.15)), P the absolute pressure
    /// of the gas in bar, A the alcohol in % vol, S the sugar in g/L, T in kelvin.</para>
    /// <para><b>Valid.</b> 0 to 30 °C, 0 to 15 % vol, up to 150 g/L sugar and 8 bar. Outside: still computed, marked
    /// <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 6 %, the gap to a published 2.1 g/(L bar) at 10 °C; 1.46 g/L of a dry wine at 20 °C is meant as 1.37 to 1.55.
    /// Water agrees with [PHREEQC] within 2 %.</para>
    /// <para><b>Source.</b> The part at 20 °C is the method of analysis [OIVAS31401]; the slope by temperature was fitted to the sealed
    /// bottles of [LigerBelair2017]. <b>Check.</b> CarbonDioxideSolubilityTests.</para>
    /// </remarks>
    /// <param name="gas">Absolute pressure of carbon dioxide alone.</param>
    /// <param name="temperature">Of the liquid.</param>
    /// <param name="alcohol">Alcohol.</param>
    /// <param name="sugar">Sugar.</param>
    public static Computed<MassConcentration> Dissolved(Pressure gas, Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar)
    {
        var grams = gas.Bar * Coefficient(temperature, alcohol, sugar);
        return new(MassConcentration.FromGramsPerLiter(grams), 1000 * RelativeError * grams, ValidityOf(gas.Bar, temperature, alcohol, sugar));
    }

    /// <summary>Pressure of the gas alone at equilibrium with what is dissolved: the inverse. [bar absolute]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> P = c / k with the k of <see cref="Dissolved"/>. <b>Valid.</b> As there.</para>
    /// <para><b>Error.</b> 6 %. <b>Source.</b> As there. <b>Check.</b> CarbonDioxideSolubilityTests.</para>
    /// </remarks>
    public static Computed<Pressure> PressureOf(MassConcentration dissolved, Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar)
    {
        var bar = dissolved.GramsPerLiter / Coefficient(temperature, alcohol, sugar);
        return new(Pressure.FromBar(bar), RelativeError * bar, ValidityOf(bar, temperature, alcohol, sugar));
    }

    /// <summary>What wine under an airlock holds: equilibrium with the pure gas at one atmosphere. [g/L]</summary>
    /// <remarks>Wine that has just finished holds about this, or more. Equation, range, error and source: <see cref="Dissolved"/>.</remarks>
    public static Computed<MassConcentration> Saturation(Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar) =>
        Dissolved(Pressure.Atmosphere, temperature, alcohol, sugar);

    /// <summary>Volumes of gas at 0 °C and one atmosphere in a volume of wine. [L/L]</summary>
    public static double VolumesOf(MassConcentration dissolved) => dissolved.GramsPerLiter / GramsPerVolume;

    /// <summary>Carbon dioxide of so many volumes. [g/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, below 0 or above 1000 volumes.</exception>
    public static MassConcentration OfVolumes(double volumes) => MassConcentration.FromGramsPerLiter(volumes * GramsPerVolume);

    /// <summary>The coefficient k. [g/(L bar)]</summary>
    internal static double Coefficient(Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar)
    {
        // Far beyond any wine both brackets would pass through nothing: held above it, and marked long before.
        var byAlcohol = Math.Max(0.1, 0.86 - (0.01 * alcohol.Percent));
        var bySugar = Math.Max(0.1, 1 - (0.00144 * Math.Max(0, sugar.GramsPerLiter)));
        return 1.951 * byAlcohol * bySugar * Math.Exp(2800 * ((1 / temperature.Kelvin) - (1 / 293.15)));
    }

    internal static Validity ValidityOf(double bar, Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar) =>
        bar <= HighestBar
        && temperature.Celsius is >= LowestCelsius and <= HighestCelsius
        && alcohol.Percent <= HighestAlcoholPercent
        && sugar.GramsPerLiter <= HighestSugarGramsPerLiter
            ? Validity.WithinSource
            : Validity.Extrapolated;
}
