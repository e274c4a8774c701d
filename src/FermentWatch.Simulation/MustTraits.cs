using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>The must of a simulated ferment before the yeast goes in.</summary>
public sealed record MustTraits
{
    /// <summary>Gravity before fermentation.</summary>
    public required SpecificGravity OriginalGravity { get; init; }

    /// <summary>Nitrogen that yeast can use. [mg/L] Drawn from 40 to 320; published musts hold 70 to 350.</summary>
    public required double NitrogenMilligramsPerLiter { get; init; }

    /// <summary>
    /// Dissolved matter that yeast can't use: acids, minerals, in honey also turanose and trehalose. [g/L] Drawn from 10 to 24 in wine,
    /// 6 to 22 in mead, 8 to 20 in cider.
    /// </summary>
    public required double NonSugarGramsPerLiter { get; init; }

    /// <summary>Volume that a gram of dissolved sugar takes. [mL/g] Drawn from 0.616 to 0.622.</summary>
    public required double SugarMillilitersPerGram { get; init; }
}
