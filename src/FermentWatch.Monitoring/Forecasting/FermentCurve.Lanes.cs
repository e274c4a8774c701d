using System.Numerics;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>The curve on its grid, for several sets of parameters at once: a processor takes as many exponentials in the time of one.</summary>
internal sealed partial class FermentCurve
{
    // What a curve needs at every step, as positions in a block of vectors.
    private const int End = 0, Sugar = 1, Alcohol = 2, Rate = 3, Onset = 4, PerWidth = 5, Half = 6, Loss = 7;
    private const int PerTolerance = 8, Power = 9, UsedAtEnd = 10, ColdPart = 11, Left = 12, Alive = 13, Numbers = 14;

    private static readonly int Lanes = Vector<double>.Count;
    private static readonly Vector<double> MostLateness = new(500);
    private static readonly Vector<double> Begun = new(-14);
    private static readonly Vector<double> LeastAmount = new(1e-9);
    private static readonly Vector<double> LeastDistance = new(1e-6);
    private static readonly Vector<double> LeastBurden = new(1e-300);
    private static readonly Vector<double> MostBurden = new(1 - 1e-9);

    private readonly Vector<double>[] _one;
    private readonly double[] _moved = new double[CurveParameter.Count];

    /// <summary>Vectors that hold a gravity of each of the curves with one parameter moved, and of the one with none.</summary>
    public static int MovedGroups { get; } = (CurveParameter.Count + Vector<double>.Count) / Vector<double>.Count;

    /// <summary>Writes the gravity in points at the first <paramref name="gravity"/>.Length grid times.</summary>
    public void Run(ReadOnlySpan<double> parameters, Span<double> gravity)
    {
        Span<double> shape = stackalloc double[Numbers * Lanes];
        var table = TableOf(parameters[CurveParameter.ColdLimit]);
        for (var lane = 0; lane < Lanes; lane++)
        {
            Shape(parameters, table, shape[lane..]);
        }

        Walk(shape, 1, table, gravity.Length, _one);
        for (var i = 0; i < gravity.Length; i++)
        {
            gravity[i] = _one[i][0];
        }
    }

    /// <summary>
    /// The same with each parameter moved in turn, and, as the last curve, with none: the gravity of curve j at time i is lane j % lanes of
    /// vector (j / lanes) * length + i.
    /// </summary>
    /// <param name="parameters">Where.</param>
    /// <param name="moves">By how much each is moved.</param>
    /// <param name="length">Number of grid times.</param>
    /// <param name="gravity">Receives <see cref="MovedGroups"/> runs of vectors.</param>
    public void RunMoved(ReadOnlySpan<double> parameters, ReadOnlySpan<double> moves, int length, Span<Vector<double>> gravity)
    {
        Span<double> shape = stackalloc double[Numbers * Lanes * MovedGroups];
        var table = TableOf(parameters[CurveParameter.ColdLimit]);
        parameters.CopyTo(_moved);
        for (var j = 0; j < Lanes * MovedGroups; j++)
        {
            // Lanes beyond the last parameter run unmoved; most processors have one to spare, and so the curve itself costs nothing more.
            if (j < CurveParameter.Count)
            {
                _moved[j] += moves[j];
            }

            Shape(_moved, table, shape[((j / Lanes * Numbers * Lanes) + (j % Lanes))..]);
            if (j < CurveParameter.Count)
            {
                _moved[j] = parameters[j];
            }
        }

        Walk(shape, MovedGroups, table, length, gravity);
    }

    private static int TableOf(double coldLimit) =>
        Math.Clamp((int)((coldLimit - ThermalTime.LowestColdLimit) / ColdTableStep), 0, ColdTables - 2);

    /// <summary>Writes a curve's numbers into one lane.</summary>
    private void Shape(ReadOnlySpan<double> parameters, int table, Span<double> shape)
    {
        var start = parameters[CurveParameter.Start];
        var original = start + _usedBefore;
        // A start below the usual dry end holds next to nothing to ferment: sugar is never negative.
        var dry = Math.Min(DryEnd(original) + parameters[CurveParameter.DryOffset], start - 0.5);
        var toTolerance = FallTo(parameters[CurveParameter.Tolerance], original);
        var tolerant = original - toTolerance;
        var gap = dry - tolerant;
        var end = Math.Min((dry + tolerant + Math.Sqrt((gap * gap) + (EndSmoothing * EndSmoothing))) / 2, start - 0.5);
        var onset = Math.Exp(parameters[CurveParameter.LogOnset]);
        shape[End * Lanes] = end;
        shape[Sugar * Lanes] = end - dry;
        shape[Alcohol * Lanes] = end - tolerant;
        shape[Rate * Lanes] = Math.Exp(parameters[CurveParameter.LogRate]);
        shape[Onset * Lanes] = onset;
        shape[PerWidth * Lanes] = 1 / (onset * Math.Exp(parameters[CurveParameter.LogOnsetWidth]));
        shape[Half * Lanes] = Math.Exp(parameters[CurveParameter.LogHalfRate]);
        shape[Loss * Lanes] = Math.Exp(parameters[CurveParameter.LogLoss]) / 40;
        shape[PerTolerance * Lanes] = 1 / toTolerance;
        shape[Power * Lanes] = Math.Exp(parameters[CurveParameter.LogInhibition]);
        shape[UsedAtEnd * Lanes] = original - end;
        shape[ColdPart * Lanes] = ((parameters[CurveParameter.ColdLimit] - ThermalTime.LowestColdLimit) / ColdTableStep) - table;
        shape[Left * Lanes] = start - end;
        shape[Alive * Lanes] = 1;
    }

    private void Walk(Span<double> shape, int groups, int table, int length, Span<Vector<double>> gravity)
    {
        var numbers = System.Runtime.InteropServices.MemoryMarshal.Cast<double, Vector<double>>(shape);
        double[] steps = _thermalStep[table], colderSteps = _thermalStep[table + 1];
        double[] middles = _thermalMiddle[table], colderMiddles = _thermalMiddle[table + 1];
        for (var g = 0; g < groups; g++)
        {
            gravity[g * length] = numbers[(g * Numbers) + End] + numbers[(g * Numbers) + Left];
        }

        // The groups go side by side: while one waits for an exponential another one computes.
        for (var i = 1; i < length; i++)
        {
            var (step, colderStep) = (steps[i], colderSteps[i] - steps[i]);
            var (middle, colderMiddle) = (middles[i], colderMiddles[i] - middles[i]);
            for (var g = 0; g < groups; g++)
            {
                gravity[(g * length) + i] = Step(numbers.Slice(g * Numbers, Numbers), step, colderStep, middle, colderMiddle);
            }
        }
    }

    private static Vector<double> Step(Span<Vector<double>> of, double step, double colderStep, double middle, double colderMiddle)
    {
        var part = of[ColdPart];
        var left = of[Left];
        var alive = of[Alive];
        var time = new Vector<double>(step) + (part * colderStep);
        var lateness = (of[Onset] - new Vector<double>(middle) - (part * colderMiddle)) * of[PerWidth];
        var amount = of[Rate] * time * alive;
        if (!Vector.LessThanAll(lateness, Begun))
        {
            var begun = Vector<double>.One / (Vector<double>.One + Vector.Exp(Vector.Min(lateness, MostLateness)));
            amount *= Vector.ConditionalSelect(Vector.LessThan(lateness, Begun), Vector<double>.One, begun);
        }

        var worn = Vector.Exp(of[Loss] * time * (left - of[UsedAtEnd]) * 0.5);
        amount *= worn;
        var moves = Vector.GreaterThan(amount, LeastAmount);
        if (!Vector.EqualsAll(moves, Vector<long>.Zero))
        {
            var halfway = left * Vector.Exp(amount * Pace(left, of) * -0.5);
            left = Vector.ConditionalSelect(moves, left * Vector.Exp(-amount * Pace(halfway, of)), left);
            of[Left] = left;
        }

        of[Alive] = alive * worn * worn;
        return of[End] + left;
    }

    /// <summary>Relative rate: fall of the distance to the end as a part of it, for one point an hour at full pace.</summary>
    private static Vector<double> Pace(Vector<double> left, Span<Vector<double>> of)
    {
        var distance = Vector.Max(left, LeastDistance);
        var x = distance + of[Sugar];
        var burden = Vector<double>.One - ((distance + of[Alcohol]) * of[PerTolerance]);
        var clamped = Vector.Min(Vector.Max(burden, LeastBurden), MostBurden);
        return x * (Vector<double>.One - Vector.Exp(of[Power] * Vector.Log(clamped))) / ((of[Half] + x) * distance);
    }
}
