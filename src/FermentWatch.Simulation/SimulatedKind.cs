namespace FermentWatch.Simulation;

/// <summary>What ferments in a simulation.</summary>
public enum SimulatedKind
{
    /// <summary>Wine of grapes or other fruit.</summary>
    Wine = 1,

    /// <summary>Mead of honey.</summary>
    Mead = 2,

    /// <summary>Cider and perry.</summary>
    Cider = 3,
}

/// <summary>How a ferment ended by itself.</summary>
public enum FermentOutcome
{
    /// <summary>At most 8 g/L of fermentable sugar is left.</summary>
    Complete = 1,

    /// <summary>Sugar is left because the alcohol reached what the yeast tolerates (94 % of it or more).</summary>
    StoppedAtTolerance = 2,

    /// <summary>Sugar is left although the yeast could bear more alcohol: cold, heat or lack of nitrogen ended it.</summary>
    Arrested = 3,
}
