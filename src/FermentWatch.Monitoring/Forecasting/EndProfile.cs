using System.Numerics;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>One possible end with the likeliest curve that leads to it.</summary>
/// <param name="End">Gravity at the end. [points]</param>
/// <param name="LogDensity">Logarithm of its density, up to a constant.</param>
/// <param name="Gravity">Gravity on the grid of the curve, past and future. [points]</param>
/// <param name="FinishHours">When it comes within one point of its end, hours from the start of the curve.</param>
/// <param name="FinishSpread">Standard deviation of that among curves with this end. [h]</param>
internal sealed record EndNode(double End, double LogDensity, double[] Gravity, double FinishHours, double FinishSpread);

/// <summary>
/// Walks the end of the ferment up and down from the likeliest one, refits everything else each time, and keeps the likelihood:
/// the profile of the end, corrected for how many curves lead there (Laplace's approximation of the marginal density).
/// </summary>
/// <remarks>
/// <b>Source.</b> L. Tierney, J. B. Kadane, Accurate approximations for posterior moments and marginal densities, J. Am. Stat. Assoc. 81
/// (1986) 82-86. The end is held by a stiff row, whose normal matrix gives the determinant that the correction needs.
/// </remarks>
internal sealed class EndProfile
{
    private const double FarBelow = 7;
    private const int MostNodes = 26;

    private readonly CurveFitter _fitter;
    private readonly CurvePrior _prior;
    private readonly FermentCurve _curve;
    private readonly double[] _covariance = new double[CurveParameter.Count * CurveParameter.Count];
    private readonly double[] _slope = new double[CurveParameter.Count];
    private readonly double[] _moves = new double[CurveParameter.Count];
    private readonly double[] _lane;

    public EndProfile(CurveFitter fitter, CurvePrior prior, FermentCurve curve)
    {
        (_fitter, _prior, _curve) = (fitter, prior, curve);
        _lane = new double[curve.Hours.Length];
    }

    /// <summary>Nodes by rising end, at least one.</summary>
    public List<EndNode> Walk(ReadOnlySpan<double> best, CancellationToken cancellation)
    {
        var problem = _fitter.Problem;
        var middle = problem.Gravity(best)[^1];
        var spread = Math.Clamp(LinearSpread(best), 0.2, 20);
        problem.EndSpread = Math.Clamp(spread / 10, 0.05, 0.5);
        var nodes = new List<EndNode>();
        var center = NodeAt(best.ToArray(), middle, cancellation);
        nodes.Add(center);
        foreach (var direction in new[] { -1, 1 })
        {
            var parameters = best.ToArray();
            var target = middle;
            var step = spread * 0.4;
            var last = center.LogDensity;
            for (var i = 0; i < MostNodes / 2; i++)
            {
                target += direction * step;
                var node = NodeAt(parameters, target, cancellation);
                if (!double.IsFinite(node.LogDensity) || !(Math.Abs(node.End - target) <= 4 * problem.EndSpread))
                {
                    break;
                }

                nodes.Add(node);
                if (node.LogDensity < nodes.Max(n => n.LogDensity) - FarBelow)
                {
                    break;
                }

                var change = Math.Abs(node.LogDensity - last);
                step *= change < 0.4 ? 1.7 : change > 1.5 ? 0.7 : 1.1;
                last = node.LogDensity;
            }
        }

        problem.EndSpread = 0;
        // A center whose density cannot be told (a flat profile) stands for itself alone.
        nodes.RemoveAll(node => !double.IsFinite(node.LogDensity));
        if (nodes.Count == 0)
        {
            nodes.Add(center with { LogDensity = 0 });
        }

        nodes.Sort((a, b) => a.End.CompareTo(b.End));
        return nodes;
    }

    private EndNode NodeAt(double[] parameters, double target, CancellationToken cancellation)
    {
        var problem = _fitter.Problem;
        problem.EndTarget = target;
        var outcome = _fitter.Solver.Minimize(problem, parameters, _prior.Low, _prior.High, _fitter.ProfileSettings, cancellation);
        var density = (-outcome.Cost / 2) - (_fitter.Solver.LogDeterminant() / 2);
        double[] gravity;
        double finish, variance = 0;
        if (_fitter.Solver.TryCovariance(_covariance))
        {
            Move(0.02);
            var moved = problem.MovedGravity(parameters, _moves);
            gravity = Lane(moved, CurveParameter.Count).ToArray();
            finish = FinishOf(gravity);
            for (var j = 0; j < CurveParameter.Count; j++)
            {
                _slope[j] = (FinishOf(Lane(moved, j)) - finish) / _moves[j];
            }

            variance = Quadratic();
        }
        else
        {
            gravity = problem.Gravity(parameters).ToArray();
            finish = FinishOf(gravity);
        }

        return new EndNode(gravity[^1], density, gravity, finish, double.IsFinite(variance) ? Math.Sqrt(Math.Max(variance, 0)) : finish);
    }

    private double LinearSpread(ReadOnlySpan<double> best)
    {
        var end = _fitter.Problem.Gravity(best)[^1];
        if (!_fitter.Solver.TryCovariance(_covariance) || _fitter.Problem.RowCount == CurveParameter.Count + 1)
        {
            return 5;
        }

        Move(0.01);
        var moved = _fitter.Problem.MovedGravity(best, _moves);
        for (var j = 0; j < CurveParameter.Count; j++)
        {
            _slope[j] = (Lane(moved, j)[^1] - end) / _moves[j];
        }

        var variance = Quadratic();
        return double.IsFinite(variance) ? Math.Sqrt(Math.Max(variance, 0)) : 5;
    }

    private void Move(double part)
    {
        for (var j = 0; j < CurveParameter.Count; j++)
        {
            _moves[j] = part * _prior.Spread[j];
        }
    }

    /// <summary>The gravity of the curve with parameter <paramref name="j"/> moved; the one after the last is the curve with none.</summary>
    private ReadOnlySpan<double> Lane(ReadOnlySpan<Vector<double>> moved, int j)
    {
        var lanes = Vector<double>.Count;
        var from = j / lanes * _lane.Length;
        for (var i = 0; i < _lane.Length; i++)
        {
            _lane[i] = moved[from + i][j % lanes];
        }

        return _lane;
    }

    private double Quadratic()
    {
        var sum = 0.0;
        for (var i = 0; i < CurveParameter.Count; i++)
        {
            for (var j = 0; j < CurveParameter.Count; j++)
            {
                sum += _slope[i] * _covariance[(i * CurveParameter.Count) + j] * _slope[j];
            }
        }

        return sum;
    }

    /// <summary>First hour within one point of the end (the curve never rises), interpolated.</summary>
    private double FinishOf(ReadOnlySpan<double> gravity)
    {
        var threshold = gravity[^1] + 1;
        int low = 0, high = gravity.Length - 1;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (gravity[middle] <= threshold)
            {
                high = middle;
            }
            else
            {
                low = middle + 1;
            }
        }

        if (high == 0)
        {
            return 0;
        }

        var fall = gravity[high - 1] - gravity[high];
        var part = fall > 0 ? (gravity[high - 1] - threshold) / fall : 1;
        return _curve.Hours[high - 1] + (Math.Clamp(part, 0, 1) * (_curve.Hours[high] - _curve.Hours[high - 1]));
    }
}
