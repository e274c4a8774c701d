namespace FermentWatch.Simulation;

/// <summary>The rates of a ferment.</summary>
/// <remarks>
/// <para><b>Structure.</b> [ColemanFishBlock2007], [Cramer2002]: growth by Monod on nitrogen; sugar use by viable cells, half speed at
/// a sugar affinity; loss of viability in proportion to ethanol. Temperature laws (second-hand): ln μ = −3.92 + 0.0782 T,
/// ln β = −2.98 + 0.0771 T, ln k = −9.81 − 0.108 T + 0.00478 T², T in °C, h⁻¹, g/g/h and L/g/h, held to 0 to 40 °C.</para>
/// <para><b>Added here, our own choice.</b> A lag by a readiness that grows as the cells would; inhibition 1 − (alcohol/tolerance)ⁿ
/// of sugar use and an earlier one of growth; sleep below a cold limit, and loss of viability in the cold once alcohol is there;
/// heat of fermentation 0.55 kJ for a gram of sugar (about 100 kJ/mol, from memory) against the vessel's loss to the room.</para>
/// <para><b>Use.</b> To make ferments for tests and the demo. It is no forecast.</para>
/// </remarks>
internal sealed class FermentKinetics(FermentScenario scenario) : IFermentKinetics
{
    private const double NitrogenAffinityGramsPerLiter = 0.010;
    private const double HeatCelsiusPerGram = 0.55 / 3.9;
    private const double EthanolGramsPerPercent = 7.892391;
    private const double GrowthEndsAtShareOfTolerance = 0.85;
    private const double ColdLossPerHour = 0.012;

    private readonly YeastTraits _yeast = scenario.Yeast;
    private readonly RoomTemperature _room = scenario.Room;
    private readonly double _toleratedEthanol = scenario.Yeast.Tolerance.Percent * EthanolGramsPerPercent;

    /// <inheritdoc/>
    public FermentState Start() => new(
        Consumed: 0,
        Nitrogen: scenario.Must.NitrogenMilligramsPerLiter / 1000,
        Yeast: _yeast.PitchGramsPerLiter,
        Readiness: -Math.Log(Math.Exp(GrowthPerHour(20) * _yeast.LagHours) - 1),
        Celsius: _room.CelsiusAt(0) + _room.StartAboveRoomCelsius);

    /// <inheritdoc/>
    public FermentState Slope(in FermentState state, double sugarSupplied, double roomCelsius)
    {
        var celsius = Math.Clamp(state.Celsius, 0, 40);
        var sugar = Math.Max(0, sugarSupplied - state.Consumed);
        var nitrogen = Math.Max(0, state.Nitrogen);
        var ethanol = state.Consumed * _yeast.EthanolYield;
        var burden = ethanol / _toleratedEthanol;
        var ready = 1 / (1 + Math.Exp(-state.Readiness));
        var awake = 1 / (1 + Math.Exp((_yeast.ColdLimitCelsius - celsius) / 0.7));

        var growthPotential = GrowthPerHour(celsius) * awake;
        var growth = growthPotential * ready
            * nitrogen / (NitrogenAffinityGramsPerLiter + nitrogen)
            * Math.Max(0, 1 - (burden / GrowthEndsAtShareOfTolerance))
            * sugar / (1 + sugar);
        var uptake = _yeast.UptakeFactor * Math.Exp(-2.98 + (0.0771 * celsius)) * awake * ready
            * sugar / (_yeast.SugarAffinityGramsPerLiter + sugar)
            * Math.Max(0, 1 - Math.Pow(burden, _yeast.ToleranceSharpness));
        var death = (_yeast.DeathFactor * Math.Exp(-9.81 - (0.108 * celsius) + (0.00478 * celsius * celsius)) * ethanol)
            + (ColdLossPerHour * (1 - awake) * burden);

        var consumed = uptake * state.Yeast;
        var grown = growth * state.Yeast;
        return new(
            consumed,
            -grown / _yeast.YeastPerNitrogen,
            grown - (death * state.Yeast),
            state.Readiness < 12 ? growthPotential : 0,
            ((roomCelsius - state.Celsius) / _room.FollowingHours) + (HeatCelsiusPerGram * consumed));
    }

    private double GrowthPerHour(double celsius) => _yeast.GrowthFactor * Math.Exp(-3.92 + (0.0782 * celsius));
}
