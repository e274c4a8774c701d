using System.Numerics;
using System.Runtime.InteropServices;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Benchmarks.Cost;

/// <summary>
/// A fall with five parameters, a + b (1 + exp(k (t - m)))^(-s): the generalized logistic of F. J. Richards, J. Exp. Bot. 10 (1959) 290-301
/// (from memory), against points with noise. The other library gets the same points, start and derivatives.
/// </summary>
internal sealed class AsymmetricFall : LeastSquaresProblem
{
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

    public static double[] Start => [0, 90, 0.05, 120, 1];

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
        var (end, fall, steepness, middle, power) = (parameters[0], parameters[1], parameters[2], parameters[3], -parameters[4]);
        var t = MemoryMarshal.Cast<double, Vector<double>>(_t);
        var y = MemoryMarshal.Cast<double, Vector<double>>(_y)[..t.Length];
        var growths = MemoryMarshal.Cast<double, Vector<double>>(_growth.AsSpan())[..t.Length];
        var logs = MemoryMarshal.Cast<double, Vector<double>>(_log.AsSpan())[..t.Length];
        var shapes = MemoryMarshal.Cast<double, Vector<double>>(_shape.AsSpan())[..t.Length];
        var found = MemoryMarshal.Cast<double, Vector<double>>(residuals)[..t.Length];
        for (var v = 0; v < t.Length; v++)
        {
            growths[v] = Vector.Exp((t[v] - new Vector<double>(middle)) * steepness);
            logs[v] = Vector.Log(growths[v] + Vector<double>.One);
            shapes[v] = Vector.Exp(logs[v] * power);
            found[v] = new Vector<double>(end) + (shapes[v] * fall) - y[v];
        }

        var i = t.Length * Vector<double>.Count;
        for (; i < _t.Length; i++)
        {
            _growth[i] = Math.Exp((_t[i] - middle) * steepness);
            _log[i] = Math.Log(1 + _growth[i]);
            _shape[i] = Math.Exp(_log[i] * power);
            residuals[i] = end + (_shape[i] * fall) - _y[i];
        }
    }

    public override void Jacobian(Span<double> parameters, ReadOnlySpan<double> residuals, Span<double> jacobian)
    {
        var (fall, steepness, middle, power) = (parameters[1], parameters[2], parameters[3], parameters[4]);
        var n = _t.Length;
        jacobian[..n].Fill(1);
        _shape.CopyTo(jacobian[n..]);
        var byK = jacobian.Slice(2 * n, n);
        var byM = jacobian.Slice(3 * n, n);
        var byS = jacobian.Slice(4 * n, n);
        var width = Vector<double>.Count;
        var i = 0;
        for (; i + width <= n; i += width)
        {
            var (growth, shape) = (new Vector<double>(_growth, i), new Vector<double>(_shape, i) * fall);
            var inner = shape * growth * -power / (growth + Vector<double>.One);
            (inner * (new Vector<double>(_t, i) - new Vector<double>(middle))).CopyTo(byK[i..]);
            (inner * -steepness).CopyTo(byM[i..]);
            (-(shape * new Vector<double>(_log, i))).CopyTo(byS[i..]);
        }

        for (; i < n; i++)
        {
            var inner = -power * fall * _shape[i] * _growth[i] / (1 + _growth[i]);
            byK[i] = inner * (_t[i] - middle);
            byM[i] = -steepness * inner;
            byS[i] = -fall * _shape[i] * _log[i];
        }
    }
}
