using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>What the yeast of a simulated ferment can do. Factors multiply the published temperature laws.</summary>
public sealed record YeastTraits
{
    /// <summary>Dry yeast pitched. [g/L] Drawn from 0.15 to 0.5 (common practice, no source: 0.2 to 0.5).</summary>
    public required double PitchGramsPerLiter { get; init; }

    /// <summary>Lag at 20 °C. [h] Drawn from 6 to 48 in wine and cider, 16 to 96 in mead (from memory: 12 to 48, 24 to 96).</summary>
    public required double LagHours { get; init; }

    /// <summary>Alcohol at which the yeast gives up. Drawn from 9.5 to 18 % vol.</summary>
    public required AlcoholByVolume Tolerance { get; init; }

    /// <summary>How suddenly alcohol slows it: the exponent of 1 − (alcohol/tolerance)ⁿ. Drawn from 3 to 7.</summary>
    public required double ToleranceSharpness { get; init; }

    /// <summary>Factor on the published growth rate. Drawn from 0.6 to 1.5.</summary>
    public required double GrowthFactor { get; init; }

    /// <summary>Factor on the published sugar uptake. Drawn from 0.5 to 1.5.</summary>
    public required double UptakeFactor { get; init; }

    /// <summary>Factor on the published loss of viability by ethanol. Drawn from 0.15 to 1.2.</summary>
    public required double DeathFactor { get; init; }

    /// <summary>Cells made of nitrogen. [g/g] Drawn from 14 to 26; the published values lie near 31 and fall with nitrogen.</summary>
    public required double YeastPerNitrogen { get; init; }

    /// <summary>Sugar at which uptake is half its full speed. [g/L] Drawn from 4 to 14 (published: 10).</summary>
    public required double SugarAffinityGramsPerLiter { get; init; }

    /// <summary>Temperature at which it works at half its speed on the way to sleep. [°C] Drawn from 5 to 10.</summary>
    public required double ColdLimitCelsius { get; init; }

    /// <summary>Ethanol made of sugar. [g/g] Drawn from 0.458 to 0.486 (second-hand from research notes).</summary>
    public required double EthanolYield { get; init; }

    /// <summary>Glycerol made of sugar. [g/g] Drawn from 0.025 to 0.038 (second-hand from research notes).</summary>
    public required double GlycerolYield { get; init; }
}
