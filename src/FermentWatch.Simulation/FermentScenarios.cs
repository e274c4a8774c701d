using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>Scenarios: plain ones for reading and exact tests, drawn ones over wide ranges.</summary>
/// <remarks>
/// <para><b>What is drawn.</b> Wine 45 %, mead 38 %, cider 17 %. Original gravity 1.072 to 1.118 in wine, 1.070 to 1.138 in mead, 1.042
/// to 1.068 in cider. Nitrogen 120 to 320 mg/L in wine, 60 to 220 in mead (three quarters of the meads get 30 to 80 mg/L at two or three
/// times in the first week as well), 80 to 200 in cider. Tolerance: what the sugar could give and 0.5 to 4 % vol more, 11 to 18. Room 15 to
/// 25 °C. The ranges of every trait stand beside it in <see cref="MustTraits"/>, <see cref="YeastTraits"/>,
/// <see cref="RoomTemperature"/> and <see cref="SensorTraits"/>.</para>
/// <para><b>What goes wrong.</b> In about one ferment of four the draw is bent: tolerance below what the sugar could give (9 %), nitrogen of
/// 40 to 90 mg/L with weak yeast (6 %), a cold room from the second half on (6 %), a hot one (4 %). Sugar is added in 8 % of meads and wines.
/// What comes of it is decided by the kinetics, not by the draw.</para>
/// <para><b>Kinds of sensor.</b> A float that lifts with bubbles, a coarse display, a noisy probe: all faults are drawn for each
/// ferment; knocks, gaps, foam and clock faults happen in 10 to 35 % of them.</para>
/// </remarks>
public static class FermentScenarios
{
    /// <summary>Draws a scenario. The same seed gives the same scenario.</summary>
    /// <param name="seed">Any number.</param>
    public static FermentScenario Draw(int seed) => new ScenarioDraw(seed).Scenario();

    /// <summary>An everyday ferment with a perfect sensor every 15 minutes: the middle of the ranges.</summary>
    /// <param name="kind">Wine of 1.090 ends dry in about two weeks, mead of 1.100 in about four, cider of 1.052 in about two.</param>
    /// <exception cref="ArgumentOutOfRangeException">The kind is none of the three.</exception>
    public static FermentScenario Plain(SimulatedKind kind)
    {
        var (gravity, nitrogen, nonSugar, tolerance, lag) = kind switch
        {
            SimulatedKind.Wine => (1.090, 220.0, 19.0, 15.5, 18.0),
            SimulatedKind.Mead => (1.100, 110.0, 12.0, 16.0, 36.0),
            SimulatedKind.Cider => (1.052, 130.0, 15.0, 13.0, 20.0),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "The kind must be wine, mead or cider."),
        };
        return new()
        {
            Kind = kind,
            Must = new()
            {
                OriginalGravity = SpecificGravity.FromRatio(gravity),
                NitrogenMilligramsPerLiter = nitrogen,
                NonSugarGramsPerLiter = nonSugar,
                SugarMillilitersPerGram = 0.619,
            },
            Yeast = new()
            {
                PitchGramsPerLiter = 0.25,
                LagHours = lag,
                Tolerance = AlcoholByVolume.FromPercent(tolerance),
                ToleranceSharpness = 5,
                GrowthFactor = 1,
                UptakeFactor = 1,
                DeathFactor = 0.5,
                YeastPerNitrogen = 18,
                SugarAffinityGramsPerLiter = 8,
                ColdLimitCelsius = 7,
                EthanolYield = 0.472,
                GlycerolYield = 0.031,
            },
            Room = new() { MeanCelsius = 20 },
            Interventions = kind == SimulatedKind.Mead
                ? [new(48, InterventionKind.NutrientAdded, 40), new(96, InterventionKind.NutrientAdded, 40)]
                : [],
        };
    }
}
