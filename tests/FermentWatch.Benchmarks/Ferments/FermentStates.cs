using FermentWatch.Simulation;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>How a simulated ferment truly stood at an hour, and what would have come of it if nobody had touched it any more.</summary>
internal sealed record TrueState(
    double Hours, double Gravity, double End, double FinishHours, bool EndsStuck, double RatePerDay, string State, double Celsius, double Share)
{
    public double Remaining => Gravity - End;
}

/// <summary>The truth of a ferment every half hour.</summary>
internal sealed class FermentStates
{
    /// <summary>Time between two states. [h]</summary>
    public const double StepHours = 0.5;

    private const double StuckSugarGramsPerLiter = 8;

    private readonly SimulatedFerment _ferment;
    private readonly double[] _acts;
    private readonly (double End, double FinishHours, bool EndsStuck)[] _futures;

    /// <summary>Looks at a ferment; runs it once more for every act.</summary>
    public FermentStates(SimulatedFerment ferment)
    {
        _ferment = ferment;
        _acts = [.. ferment.Scenario.Interventions.Select(act => act.HoursSinceInoculation).Concat(ferment.Scenario.Room.Spells.Select(spell => spell.FromHours)).Order()];
        _futures = [.. _acts.Prepend(double.NegativeInfinity).Select(act => Future(ferment.Scenario.LeftAloneAfter(act)))];
        var all = new List<TrueState>();
        var fastest = 0.0;
        for (var hours = 0.0; hours <= 80 * 24; hours += StepHours)
        {
            var state = At(hours, ref fastest);
            all.Add(state);
        }

        All = all;
    }

    /// <summary>States by hour.</summary>
    public IReadOnlyList<TrueState> All { get; }

    /// <summary>The state at an hour.</summary>
    public TrueState At(double hours) => All[Math.Min((int)Math.Round(hours / StepHours), All.Count - 1)];

    private static (double, double, bool) Future(FermentScenario scenario)
    {
        var alone = FermentSimulator.Run(scenario with { SensorHours = 0 }, 1);
        var end = alone.TruthAt(SimulatedFerment.TruthHours);
        var stuck = end.Sugar.GramsPerLiter > StuckSugarGramsPerLiter && end.Alcohol.Percent < 0.94 * scenario.Yeast.Tolerance.Percent;
        return (end.Gravity.Value, alone.FinishHours, stuck);
    }

    private TrueState At(double hours, ref double fastest)
    {
        var (end, finish, endsStuck) = _futures[_acts.Count(act => act <= hours)];
        var now = _ferment.TruthAt(hours);
        var rate = Math.Max(0, (now.Gravity.Value - _ferment.TruthAt(hours + 1).Gravity.Value) * 24);
        rate = _acts.Any(act => act > hours && act <= hours + 1) ? Math.Max(0, (_ferment.TruthAt(hours - 1).Gravity.Value - now.Gravity.Value) * 24) : rate;
        fastest = Math.Max(fastest, rate);
        var consumed = 1 - (now.Sugar.GramsPerLiter / Math.Max(1, _ferment.TruthAt(0).Sugar.GramsPerLiter));
        var begun = consumed > 0.02;
        var state = !begun ? "lag"
            : endsStuck && rate < 0.0006 ? "stuck"
            : !endsStuck && now.Gravity.Value - end <= 0.001 ? "finished"
            : rate < 0.3 * fastest ? "slowing" : "active";
        return new TrueState(hours, now.Gravity.Value, end, finish, endsStuck, rate, state, now.Temperature.Celsius, consumed);
    }
}
