using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>What a liter of the must at inoculation has become, by mass. All in grams for that liter.</summary>
/// <param name="Water">Water.</param>
/// <param name="Sugar">Fermentable sugar still there.</param>
/// <param name="Ethanol">Ethanol.</param>
/// <param name="Glycerol">Glycerol.</param>
/// <param name="NonSugar">Acids, minerals and sugars that yeast can't use, those formed by the yeast included.</param>
/// <param name="CarbonDioxide">Gas that left.</param>
/// <param name="Lees">Yeast and whatever else settled.</param>
public readonly record struct LiquidMasses(
    double Water,
    double Sugar,
    double Ethanol,
    double Glycerol,
    double NonSugar,
    double CarbonDioxide,
    double Lees)
{
    private const double GlycerolMillilitersPerGram = 0.77;
    private const double NonSugarMillilitersPerGram = 0.55;
    private static readonly Temperature ReferenceTemperature = Temperature.FromCelsius(20);

    /// <summary>Mass of the liquid, without gas and lees. [g]</summary>
    public double Liquid => Water + Sugar + Ethanol + Glycerol + NonSugar;

    /// <summary>Volume of the liquid at 20 °C. [L]</summary>
    /// <param name="sugarMillilitersPerGram">Volume that a gram of dissolved sugar takes.</param>
    /// <remarks>
    /// Water and ethanol as their mixture by [OIMLR22]; the rest adds what it takes when dissolved: sugar 0.616 to 0.622 mL/g
    /// [Bubnik1995], glycerol 0.77 and other matter 0.55 mL/g (from memory). This is another road than Tabarié's rule, so a forecast or
    /// mass balance is not tested against its own assumptions.
    /// </remarks>
    public double Liters(double sugarMillilitersPerGram)
    {
        var mixture = Water + Ethanol;
        var density = EthanolSolution.DensityAtMassFraction(Ethanol / mixture, ReferenceTemperature).Value.KilogramsPerCubicMeter;
        var milliliters = (Sugar * sugarMillilitersPerGram)
            + (Glycerol * GlycerolMillilitersPerGram)
            + (NonSugar * NonSugarMillilitersPerGram);
        return (mixture / density) + (milliliters / 1000);
    }

    /// <summary>Specific gravity 20/20 °C of the degassed liquid.</summary>
    /// <param name="sugarMillilitersPerGram">Volume that a gram of dissolved sugar takes.</param>
    public double Gravity(double sugarMillilitersPerGram) => Liquid / Liters(sugarMillilitersPerGram) / WaterKilogramsPerCubicMeter;

    /// <summary>A liter of must before fermentation: as much sugar as its gravity needs beside the rest.</summary>
    internal static LiquidMasses OfMust(MustTraits must)
    {
        var nonSugarWeight = 1 - (NonSugarMillilitersPerGram * WaterKilogramsPerCubicMeter / 1000);
        var sugarWeight = 1 - (must.SugarMillilitersPerGram * WaterKilogramsPerCubicMeter / 1000);
        var excess = (must.OriginalGravity.Value - 1) * WaterKilogramsPerCubicMeter;
        var sugar = Math.Max(0, (excess - (must.NonSugarGramsPerLiter * nonSugarWeight)) / sugarWeight);
        var water = (must.OriginalGravity.Value * WaterKilogramsPerCubicMeter) - sugar - must.NonSugarGramsPerLiter;
        return new(water, sugar, 0, 0, must.NonSugarGramsPerLiter, 0, 0);
    }

    /// <summary>Density of water in the ethanol formula, so that the ratio stays inside one formula. [kg/m³]</summary>
    private static double WaterKilogramsPerCubicMeter => 998.20123;
}
