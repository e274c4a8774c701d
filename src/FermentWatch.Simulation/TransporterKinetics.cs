namespace FermentWatch.Simulation;

/// <summary>The rates of a ferment whose pace is set by its sugar transporters.</summary>
/// <remarks>
/// <para><b>Structure.</b> After the idea of [Malherbe2004] (transporters made from nitrogen, inhibited by alcohol; from memory, the numbers are
/// our own): capacity grows with nitrogen and turns over, fastest once nitrogen is gone; alcohol competes with sugar and, near the tolerance,
/// takes the rest by (1 - alcohol/tolerance)ᵖ. Temperature acts through cardinal points (none at the lowest, fastest at the best, none
/// at the highest), after the form of Rosso (from memory). It shares no rate law with <see cref="FermentKinetics"/> and none with the forecast.</para>
/// <para><b>Use.</b> To see whether a forecast that was built on one structure holds on another.</para>
/// </remarks>
internal sealed class TransporterKinetics(FermentScenario scenario) : IFermentKinetics
{
    private const double SynthesisPerHour = 0.19;
    private const double UptakePerHour = 0.42;
    private const double TurnoverPerHour = 0.0028;
    private const double NitrogenAffinityGramsPerLiter = 0.015;
    private const double EthanolCompetesGramsPerLiter = 40;
    private const double BestCelsius = 29;
    private const double HighestCelsius = 40;
    private const double EthanolGramsPerPercent = 7.892391;
    private const double HeatCelsiusPerGram = 0.55 / 3.9;

    private readonly YeastTraits _yeast = scenario.Yeast;
    private readonly RoomTemperature _room = scenario.Room;
    private readonly double _toleratedEthanol = scenario.Yeast.Tolerance.Percent * EthanolGramsPerPercent;
    private readonly double _steepness = 2 / scenario.Yeast.ToleranceSharpness;

    /// <inheritdoc/>
    public FermentState Start() => new(
        Consumed: 0,
        Nitrogen: scenario.Must.NitrogenMilligramsPerLiter / 1000,
        Yeast: _yeast.PitchGramsPerLiter,
        Readiness: -Math.Log(Math.Exp(SynthesisPerHour * _yeast.GrowthFactor * PaceAt(20) * _yeast.LagHours) - 1),
        Celsius: _room.CelsiusAt(0) + _room.StartAboveRoomCelsius);

    /// <inheritdoc/>
    public FermentState Slope(in FermentState state, double sugarSupplied, double roomCelsius)
    {
        var sugar = Math.Max(0, sugarSupplied - state.Consumed);
        var nitrogen = Math.Max(0, state.Nitrogen);
        var ethanol = state.Consumed * _yeast.EthanolYield;
        var burden = ethanol / _toleratedEthanol;
        var ready = 1 / (1 + Math.Exp(-state.Readiness));
        var pace = PaceAt(state.Celsius);
        var fed = nitrogen / (NitrogenAffinityGramsPerLiter + nitrogen);

        var potential = SynthesisPerHour * _yeast.GrowthFactor * pace;
        var made = potential * ready * fed * Math.Max(0, 1 - (burden / 0.9)) * sugar / (2 + sugar) * state.Yeast;
        var chilled = 1 / (1 + Math.Exp((state.Celsius - _yeast.ColdLimitCelsius - 1.5) / 0.8));
        var overheated = Math.Max(0, state.Celsius - HighestCelsius + 6);
        var lost = ((TurnoverPerHour * _yeast.DeathFactor * (0.2 + (0.8 * (1 - fed))) * (0.4 + pace) * (1 + (2 * burden)))
            + (0.006 * chilled * burden) + (0.004 * overheated * burden)) * state.Yeast;
        var affinity = _yeast.SugarAffinityGramsPerLiter * (1 + (ethanol / EthanolCompetesGramsPerLiter));
        var consumed = UptakePerHour * _yeast.UptakeFactor * pace * ready * state.Yeast
            * sugar / (affinity + sugar) * Math.Pow(Math.Max(0, 1 - burden), _steepness);
        return new(
            consumed,
            -made / _yeast.YeastPerNitrogen,
            made - lost,
            state.Readiness < 12 ? potential : 0,
            ((roomCelsius - state.Celsius) / _room.FollowingHours) + (HeatCelsiusPerGram * consumed));
    }

    /// <summary>Pace at a temperature, 1 at the best one.</summary>
    private double PaceAt(double celsius)
    {
        var lowest = _yeast.ColdLimitCelsius;
        if (celsius <= lowest || celsius >= HighestCelsius)
        {
            return 0;
        }

        var above = celsius - lowest;
        var width = BestCelsius - lowest;
        var below = (width * (celsius - BestCelsius)) - ((BestCelsius - HighestCelsius) * (BestCelsius + lowest - (2 * celsius)));
        return Math.Clamp((celsius - HighestCelsius) * above * above / (width * below), 0, 1);
    }
}
