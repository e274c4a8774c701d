namespace FermentWatch.Simulation;

/// <summary>How a simulated ferment moves: the structures differ, the state is the same.</summary>
internal interface IFermentKinetics
{
    /// <summary>The state at inoculation.</summary>
    FermentState Start();

    /// <summary>Change of every part in an hour.</summary>
    /// <param name="state">The present state.</param>
    /// <param name="sugarSupplied">Fermentable sugar at inoculation and added since. [g]</param>
    /// <param name="roomCelsius">Temperature of the room. [°C]</param>
    FermentState Slope(in FermentState state, double sugarSupplied, double roomCelsius);
}

/// <summary>Which equations make a simulated ferment.</summary>
public enum KineticStructure
{
    /// <summary>Viable cells that grow on nitrogen and die of alcohol.</summary>
    Cells = 1,

    /// <summary>Sugar transporters that are made while there is nitrogen and wear out when there is none.</summary>
    Transporters = 2,
}
