namespace FermentWatch.Simulation;

/// <summary>What somebody does to a simulated ferment.</summary>
public enum InterventionKind
{
    /// <summary>Nutrient goes in: the amount is nitrogen that yeast can use, in mg/L.</summary>
    NutrientAdded = 1,

    /// <summary>Sugar or honey goes in: the amount is fermentable sugar, in g for a liter of the must at the start.</summary>
    SugarAdded = 2,

    /// <summary>The room is set to another temperature for good: the amount is the change, in °C.</summary>
    RoomChanged = 3,
}

/// <summary>One act upon a simulated ferment.</summary>
/// <param name="HoursSinceInoculation">When.</param>
/// <param name="Kind">What.</param>
/// <param name="Amount">How much, in the unit of the kind.</param>
public sealed record Intervention(double HoursSinceInoculation, InterventionKind Kind, double Amount);
