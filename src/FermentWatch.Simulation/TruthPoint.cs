using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>How a simulated ferment truly stands at a moment.</summary>
/// <param name="HoursSinceInoculation">When. [h]</param>
/// <param name="Gravity">Gravity 20/20 °C of the degassed liquid.</param>
/// <param name="Temperature">Temperature of the must.</param>
/// <param name="Sugar">Fermentable sugar in a liter of the liquid.</param>
/// <param name="Alcohol">Alcoholic strength.</param>
public readonly record struct TruthPoint(
    double HoursSinceInoculation,
    SpecificGravity Gravity,
    Temperature Temperature,
    SugarConcentration Sugar,
    AlcoholByVolume Alcohol);
