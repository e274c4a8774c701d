using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>A bottle that is filled, closed and kept at a temperature.</summary>
/// <param name="HeadspaceRatio">Gas above the wine over the wine, by volume: 0.03 in a wine bottle.</param>
/// <param name="FilledAt">Temperature at filling.</param>
/// <param name="Alcohol">Alcohol.</param>
/// <param name="Sugar">Sugar that stays.</param>
public readonly record struct ClosedBottle(double HeadspaceRatio, Temperature FilledAt, AlcoholByVolume Alcohol, SugarConcentration Sugar)
{
    private const double GasConstantBarLiters = 0.08314462618;

    /// <summary>Error that is stated for a pressure beside the share of the solubility. [bar]</summary>
    public const double PressureErrorBar = 0.15;

    /// <summary>Absolute pressure of the carbon dioxide alone. [bar]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> P = c / (k + r M / (R T)): all the gas c in a liter of wine shares itself between wine (k of
    /// <see cref="CarbonDioxideSolubility"/>) and headspace (r, ideal gas, M = 44.009 g/mol).</para>
    /// <para><b>Valid.</b> As the solubility: to 30 °C, 15 % vol, 150 g/L, 8 bar. Outside: still computed, marked.</para>
    /// <para><b>Error.</b> 6 % and 0.15 bar. Measured bottles agree within 0.15 bar at 6 and 12 °C.</para>
    /// <para><b>Source.</b> [LigerBelair2017], [OIVAS31401]. <b>Check.</b> BottlePressureTests.</para>
    /// </remarks>
    /// <param name="gas">All carbon dioxide in the bottle, for a liter of wine.</param>
    /// <param name="keptAt">Temperature at which it is kept.</param>
    public Computed<Pressure> GasPressure(MassConcentration gas, Temperature keptAt)
    {
        var bar = gas.GramsPerLiter / Capacity(keptAt);
        return new(
            Pressure.FromBar(Math.Min(bar, 90)),
            (CarbonDioxideSolubility.RelativeError * bar) + PressureErrorBar,
            CarbonDioxideSolubility.ValidityOf(bar, keptAt, Alcohol, Sugar));
    }

    /// <summary>Absolute pressure of everything in the bottle: the gas, and the air that was shut in and is warmed. [bar]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> P + 1.01325 · T / T(filled). Its gauge reading is what the bottle bears.</para>
    /// <para><b>Valid, error, source.</b> As <see cref="GasPressure"/>. Water vapor (0.02 to 0.04 bar) is inside the error.</para>
    /// </remarks>
    public Computed<Pressure> TotalPressure(MassConcentration gas, Temperature keptAt)
    {
        var alone = GasPressure(gas, keptAt);
        return alone with { Value = Pressure.FromBar(alone.Value.Bar + AirBar(keptAt)) };
    }

    /// <summary>Carbon dioxide in all that gives a pressure: the inverse of <see cref="TotalPressure"/>. [g/L]</summary>
    /// <remarks>Less than what the shut-in air gives by itself: none.</remarks>
    public Computed<MassConcentration> GasFor(Pressure total, Temperature keptAt)
    {
        var bar = Math.Max(0, total.Bar - AirBar(keptAt));
        var grams = bar * Capacity(keptAt);
        return new(
            MassConcentration.FromGramsPerLiter(grams),
            1000 * ((CarbonDioxideSolubility.RelativeError * grams) + (PressureErrorBar * Capacity(keptAt))),
            CarbonDioxideSolubility.ValidityOf(bar, keptAt, Alcohol, Sugar));
    }

    /// <summary>Carbon dioxide in all when sugar and malic acid ferment to the end. [g/L]</summary>
    /// <param name="start">What is there at filling.</param>
    /// <param name="hexose">Sugar that referments, as glucose and fructose.</param>
    /// <param name="malicGramsPerLiter">Malic acid that bacteria can turn. [g/L]</param>
    public static MassConcentration AfterRefermentation(MassConcentration start, SugarConcentration hexose, double malicGramsPerLiter) => MassConcentration.FromGramsPerLiter(
        start.GramsPerLiter + (CarbonDioxideYield.PerHexose * Math.Max(0, hexose.GramsPerLiter)) + (CarbonDioxideYield.PerMalicAcid * malicGramsPerLiter));

    private double Capacity(Temperature keptAt) => CarbonDioxideSolubility.Coefficient(keptAt, Alcohol, Sugar)
        + (Math.Max(0, HeadspaceRatio) * CarbonDioxideYield.MolarMassGrams / (GasConstantBarLiters * keptAt.Kelvin));

    private double AirBar(Temperature keptAt) => HeadspaceRatio > 0 ? Pressure.AtmosphereBar * keptAt.Kelvin / FilledAt.Kelvin : Pressure.AtmosphereBar;
}
