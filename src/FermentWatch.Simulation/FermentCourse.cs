using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>The integrated truth of a ferment on a grid of a quarter of an hour.</summary>
internal sealed class FermentCourse
{
    private const double StepHours = 0.125;
    private const int StepsPerPoint = 2;
    private const double PointHours = StepHours * StepsPerPoint;

    /// <summary>Dissolved by-products other than glycerol, mostly acids, made of sugar. [g/g]</summary>
    private const double AcidYield = 0.008;

    /// <summary>Carbon dioxide for each gram of ethanol, by stoichiometry (44.0095/46.0684). [g/g]</summary>
    private const double CarbonDioxidePerEthanol = 0.95531;

    private readonly FermentScenario _scenario;
    private readonly LiquidMasses _must;
    private readonly FermentState[] _states;
    private readonly double[] _supplied;
    private readonly double[] _gravities;

    private FermentCourse(FermentScenario scenario, LiquidMasses must, FermentState[] states, double[] supplied)
    {
        _scenario = scenario;
        _must = must;
        _states = states;
        _supplied = supplied;
        _gravities = new double[states.Length];
        Array.Fill(_gravities, double.NaN);
    }

    /// <summary>Integrates with the classic fourth-order Runge-Kutta rule in steps of an eighth of an hour.</summary>
    public static FermentCourse Of(FermentScenario scenario)
    {
        IFermentKinetics kinetics = scenario.Structure == KineticStructure.Transporters ? new TransporterKinetics(scenario) : new FermentKinetics(scenario);
        var must = LiquidMasses.OfMust(scenario.Must);
        var acts = scenario.Interventions.OrderBy(act => act.HoursSinceInoculation).ToArray();
        var points = (int)(SimulatedFerment.TruthHours / PointHours) + 1;
        var states = new FermentState[points];
        var supplied = new double[points];
        var state = kinetics.Start();
        var sugar = must.Sugar;
        var roomChange = 0.0;
        var nextAct = 0;
        for (var step = 0; step <= (points - 1) * StepsPerPoint; step++)
        {
            var hours = step * StepHours;
            for (; nextAct < acts.Length && acts[nextAct].HoursSinceInoculation <= hours; nextAct++)
            {
                var act = acts[nextAct];
                sugar += act.Kind == InterventionKind.SugarAdded ? act.Amount : 0;
                roomChange += act.Kind == InterventionKind.RoomChanged ? act.Amount : 0;
                state = act.Kind == InterventionKind.NutrientAdded
                    ? state with { Nitrogen = state.Nitrogen + (act.Amount / 1000) }
                    : state;
            }

            if (step % StepsPerPoint == 0)
            {
                states[step / StepsPerPoint] = state;
                supplied[step / StepsPerPoint] = sugar;
            }

            var room = scenario.Room.CelsiusAt(hours + (StepHours / 2)) + roomChange;
            var a = kinetics.Slope(state, sugar, room);
            var b = kinetics.Slope(state.Plus(a, StepHours / 2), sugar, room);
            var c = kinetics.Slope(state.Plus(b, StepHours / 2), sugar, room);
            var d = kinetics.Slope(state.Plus(c, StepHours), sugar, room);
            state = state.Plus(a, StepHours / 6).Plus(b, StepHours / 3).Plus(c, StepHours / 3).Plus(d, StepHours / 6);
            state = state with { Consumed = Math.Min(state.Consumed, sugar), Nitrogen = Math.Max(0, state.Nitrogen) };
        }

        return new(scenario, must, states, supplied);
    }

    public TruthPoint At(double hours)
    {
        var (index, share) = Place(hours);
        var consumed = Between(_states[index].Consumed, _states[index + 1].Consumed, share);
        var masses = Masses(consumed, _supplied[index]);
        var liters = masses.Liters(_scenario.Must.SugarMillilitersPerGram);
        return new(
            Math.Clamp(hours, 0, SimulatedFerment.TruthHours),
            SpecificGravity.FromRatio(GravityAt(hours)),
            Temperature.FromCelsius(Between(_states[index].Celsius, _states[index + 1].Celsius, share)),
            SugarConcentration.FromGramsPerLiter(masses.Sugar / liters),
            AlcoholByVolume.FromPercent(masses.Ethanol / liters / 7.892391));
    }

    /// <summary>Gravity alone, for the sensor, which asks for it a hundred thousand times.</summary>
    public double GravityAt(double hours)
    {
        var (index, share) = Place(hours);

        // Added sugar is a step: the point before it counts until then.
        return _supplied[index].Equals(_supplied[index + 1])
            ? Between(Gravity(index), Gravity(index + 1), share)
            : Gravity(index);
    }

    public double CelsiusAt(double hours)
    {
        var (index, share) = Place(hours);
        return Between(_states[index].Celsius, _states[index + 1].Celsius, share);
    }

    /// <summary>Loss of gravity in a day by sugar use at this moment. Never negative.</summary>
    public double GravityLossPerDay(double hours)
    {
        var (index, _) = Place(hours);
        return (_supplied[index].Equals(_supplied[index + 1]) ? Math.Max(0, Gravity(index) - Gravity(index + 1)) : 0)
            * 24 / PointHours;
    }

    public LiquidMasses MassesAt(double hours)
    {
        var (index, share) = Place(hours);
        return Masses(Between(_states[index].Consumed, _states[index + 1].Consumed, share), _supplied[index]);
    }

    public double HoursAtShare(double share)
    {
        var wanted = share * _states[^1].Consumed;
        var index = Array.FindIndex(_states, state => state.Consumed >= wanted);
        if (index <= 0)
        {
            return Math.Max(index, 0) * PointHours;
        }

        var (before, after) = (_states[index - 1].Consumed, _states[index].Consumed);
        return PointHours * (index - 1 + (after > before ? (wanted - before) / (after - before) : 1));
    }

    public double HoursUntilWithin(double gravity)
    {
        var end = Gravity(_states.Length - 1);
        var last = _states.Length - 1;
        while (last >= 0 && Math.Abs(Gravity(last) - end) <= gravity)
        {
            last--;
        }

        return (last + 1) * PointHours;
    }

    private static double Between(double before, double after, double share) => before + ((after - before) * share);

    private (int Index, double Share) Place(double hours)
    {
        var position = Math.Clamp(hours, 0, SimulatedFerment.TruthHours) / PointHours;
        var index = Math.Min((int)position, _states.Length - 2);
        return (index, position - index);
    }

    /// <summary>Computed when first asked for: two threads that ask at once store the same number.</summary>
    private double Gravity(int index)
    {
        if (double.IsNaN(_gravities[index]))
        {
            _gravities[index] = Masses(_states[index].Consumed, _supplied[index]).Gravity(_scenario.Must.SugarMillilitersPerGram);
        }

        return _gravities[index];
    }

    private LiquidMasses Masses(double consumed, double supplied)
    {
        var yeast = _scenario.Yeast;
        var ethanol = yeast.EthanolYield * consumed;
        var glycerol = yeast.GlycerolYield * consumed;
        var gas = CarbonDioxidePerEthanol * ethanol;
        var acids = AcidYield * consumed;
        return new(
            _must.Water,
            Math.Max(0, supplied - consumed),
            ethanol,
            glycerol,
            _must.NonSugar + acids,
            gas,
            consumed - ethanol - glycerol - gas - acids);
    }
}
