using System.Runtime.Intrinsics;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Benchmarks.Cost;

/// <summary>
/// A fall with five parameters, a + b (1 + exp(k (t - m)))^(-s): the generalized logistic of F. J. Richards, J. Exp. Bot. 10 (1959) 290-301
/// (from memory), against points with noise. The other library gets the same points, start and derivatives.
/// </summary>
internal sealed class AsymmetricFall : LeastSquaresProblem
{
    private static readonly int Width = Vector512<double>.Count;

    private readonly double[] _t;
    private readonly double[] _y;

    // What the residuals found on their way: the solver asks for the derivatives where it was last.
    private readonly double[] _growth;
    private readonly double[] _log;
    private readonly double[] _shape;

    public AsymmetricFall(double[] t, double[] y)
    {
        (_t, _y) = (t, y);
        _growth = new double[t.Length];
        _log = new double[t.Length];
        _shape = new double[t.Length];
    }

    /// <summary>End, fall, steepness, middle, asymmetry: those that the points are made from.</summary>
    public static double[] Truth => [-5, 100, 0.035, 150, 0.6];

    public static double[] Start { get; } = [0, 90, 0.05, 120, 1];

    public override int ParameterCount => 5;

    public override int RowCount => _t.Length;

    public static AsymmetricFall Draw(int count, int seed)
    {
        var random = new Random(seed);
        var (t, y) = (new double[count], new double[count]);
        for (var i = 0; i < count; i++)
        {
            t[i] = 500.0 * i / (count - 1);
            var normal = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            y[i] = Truth[0] + (Truth[1] * Math.Pow(1 + Math.Exp(Truth[2] * (t[i] - Truth[3])), -Truth[4])) + normal;
        }

        return new AsymmetricFall(t, y);
    }

    /// <summary>The points as lines of time and value.</summary>
    public IEnumerable<(double Time, double Value)> Points => _t.Zip(_y);

    public override void Residuals(ReadOnlySpan<double> parameters, Span<double> residuals)
    {
        var (end, fall) = (Vector512.Create(parameters[0]), Vector512.Create(parameters[1]));
        var (steepness, middle, power) = (Vector512.Create(parameters[2]), Vector512.Create(parameters[3]), Vector512.Create(-parameters[4]));
        for (var i = 0; i < _t.Length; i += Width)
        {
            // The last block overlaps the one before it: the same values are written twice, and no row is left over.
            i = Math.Min(i, _t.Length - Width);
            var growth = Vector512.Exp((Vector512.Create(_t, i) - middle) * steepness);
            var log = Vector512.Log(growth + Vector512<double>.One);
            var shape = Vector512.Exp(log * power);
            growth.CopyTo(_growth, i);
            log.CopyTo(_log, i);
            shape.CopyTo(_shape, i);
            (end + (shape * fall) - Vector512.Create(_y, i)).CopyTo(residuals[i..]);
        }
    }

    public override void Jacobian(Span<double> parameters, ReadOnlySpan<double> residuals, Span<double> jacobian)
    {
        var n = _t.Length;
        jacobian[..n].Fill(1);
        _shape.CopyTo(jacobian[n..]);
        var byK = jacobian.Slice(2 * n, n);
        var byM = jacobian.Slice(3 * n, n);
        var byS = jacobian.Slice(4 * n, n);
        var (fall, middle, power) = (Vector512.Create(parameters[1]), Vector512.Create(parameters[3]), Vector512.Create(-parameters[4]));
        for (var i = 0; i < n; i += Width)
        {
            i = Math.Min(i, n - Width);
            var (growth, shape) = (Vector512.Create(_growth, i), Vector512.Create(_shape, i) * fall);
            var inner = shape * growth * power / (growth + Vector512<double>.One);
            (inner * (Vector512.Create(_t, i) - middle)).CopyTo(byK[i..]);
            (inner * -parameters[2]).CopyTo(byM[i..]);
            (-(shape * Vector512.Create(_log, i))).CopyTo(byS[i..]);
        }
    }
}
