namespace FermentWatch.Monitoring.Forecasting;

/// <summary>
/// Damped least squares after Levenberg and Marquardt, with bounds, a robust loss on chosen rows, and no allocation while it runs.
/// </summary>
/// <remarks>
/// <para><b>Method.</b> Normal equations scaled to a unit diagonal, Cholesky, damping after Nielsen: on success it is
/// multiplied by max(1/3, 1 - (2 gain - 1)³), on failure by 2, 4, 8, ... Robust rows carry the negative logarithm of Student's t,
/// (ν + 1) ln(1 + r²/ν), by re-weighting. A parameter at a bound whose gradient points outward is held for that iteration.</para>
/// <para><b>Error.</b> At least 6 digits of the certified parameters of the NIST Statistical Reference Datasets from their second start.
/// <b>Source.</b> H. B. Nielsen, Damping parameter in Marquardt's method, IMM-REP-1999-05. <b>Check.</b> CertifiedFitTests.</para>
/// </remarks>
public sealed class LevenbergMarquardt
{
    // A short step under strong damping says nothing about the distance to the minimum.
    private const double SmallDamping = 1e-2;

    private readonly int _count;
    private readonly int _rows;
    private readonly double[] _jacobian;
    private readonly double[] _matrix;
    private readonly double[] _held;
    private readonly double[] _gradient;
    private readonly double[] _step;
    private readonly double[] _trial;
    private readonly double[] _weights;
    private readonly double[] _weighted;
    private readonly double[] _products;
    private readonly NormalMatrix _normal;
    private double[] _residuals;
    private double[] _trialResiduals;

    /// <summary>Makes room for problems of this size.</summary>
    public LevenbergMarquardt(int parameterCount, int rowCount)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(parameterCount, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(rowCount, 1);
        (_count, _rows) = (parameterCount, rowCount);
        _residuals = new double[rowCount];
        _trialResiduals = new double[rowCount];
        _weights = new double[rowCount];
        _weighted = new double[rowCount];
        _products = new double[parameterCount + 1];
        _jacobian = new double[parameterCount * rowCount];
        _matrix = new double[parameterCount * parameterCount];
        _held = new double[parameterCount * parameterCount];
        _gradient = new double[parameterCount];
        _step = new double[parameterCount];
        _trial = new double[parameterCount];
        _normal = new NormalMatrix(parameterCount);
    }

    /// <summary>Residuals at the end of the last fit.</summary>
    public ReadOnlySpan<double> LastResiduals => _residuals;

    /// <summary>Moves <paramref name="parameters"/> to a local minimum of the cost inside the bounds.</summary>
    /// <param name="problem">The rows, of the size given to the constructor.</param>
    /// <param name="parameters">Start; receives the result.</param>
    /// <param name="low">Lower bounds, or empty.</param>
    /// <param name="high">Upper bounds, or empty.</param>
    /// <param name="settings">Weights and stopping.</param>
    /// <param name="cancellation">Stops between iterations by throwing.</param>
    public FitOutcome Minimize(
        LeastSquaresProblem problem,
        Span<double> parameters,
        ReadOnlySpan<double> low,
        ReadOnlySpan<double> high,
        FitSettings settings,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(settings);
        Clamp(parameters, low, high);
        problem.Residuals(parameters, _residuals);
        var cost = Cost(_residuals, settings);
        Linearize(problem, parameters, settings);
        double damping = settings.FirstDamping, growth = 2;
        for (var iteration = 1; iteration <= settings.MaxIterations; iteration++)
        {
            cancellation.ThrowIfCancellationRequested();
            Hold(parameters, low, high);
            if (!_normal.TryDecompose(_held, damping))
            {
                damping = Math.Max(damping * growth, 1e-12);
                growth *= 2;
                if (damping > 1e30)
                {
                    return new FitOutcome(cost, iteration, false);
                }

                continue;
            }

            _normal.Solve(_step);
            var moved = Try(parameters, low, high);
            if (moved <= settings.StepTolerance)
            {
                return new FitOutcome(cost, iteration, true);
            }

            problem.Residuals(_trial, _trialResiduals);
            var trialCost = Cost(_trialResiduals, settings);
            var gain = (cost - trialCost) / Math.Max(Predicted(), double.Epsilon);
            if (!double.IsFinite(trialCost) || trialCost > cost || gain <= 0)
            {
                if (double.IsFinite(trialCost) && trialCost - cost <= 1e-15 * cost && moved < 1e-9)
                {
                    return new FitOutcome(cost, iteration, true);
                }

                damping *= growth;
                growth *= 2;
                continue;
            }

            var fall = cost - trialCost;
            _trial.CopyTo(parameters);
            (_residuals, _trialResiduals) = (_trialResiduals, _residuals);
            cost = trialCost;
            Linearize(problem, parameters, settings);
            damping *= Math.Max(settings.LeastRelief, 1 - Math.Pow((2 * Math.Min(gain, 1)) - 1, 3));
            growth = 2;
            if (fall < settings.CostTolerance && damping < SmallDamping)
            {
                return new FitOutcome(cost, iteration, true);
            }
        }

        return new FitOutcome(cost, settings.MaxIterations, false);
    }

    /// <summary>Writes the inverse of the undamped normal matrix at the end of the last fit, row by row. False when it is singular.</summary>
    /// <remarks>With unit-variance rows this is the covariance of the parameters; else multiply by the residual variance.</remarks>
    public bool TryCovariance(Span<double> covariance)
    {
        if (!_normal.TryDecompose(_matrix, 0))
        {
            return false;
        }

        for (var j = 0; j < _count; j++)
        {
            _step.AsSpan().Clear();
            _step[j] = 1;
            _normal.Solve(_step);
            for (var i = 0; i < _count; i++)
            {
                covariance[(i * _count) + j] = _step[i];
            }
        }

        return true;
    }

    /// <summary>Logarithm of the determinant of the normal matrix at the end of the last fit, slightly damped so that it always exists.</summary>
    public double LogDeterminant() => _normal.TryDecompose(_matrix, 1e-12) || _normal.TryDecompose(_matrix, 1e-6) ? _normal.LogDeterminant() : 0;

    private static double Cost(ReadOnlySpan<double> residuals, FitSettings settings)
    {
        var robust = settings.RobustRows;
        double freedom = settings.DegreesOfFreedom, logarithms = 0, product = 1;
        for (var i = 0; i < robust; i++)
        {
            // Logarithms are taken of products of a few terms: they are the dearest part of the loop.
            product *= 1 + (residuals[i] * residuals[i] / freedom);
            if (product > 1e100 || !double.IsFinite(product))
            {
                logarithms += Math.Log(product);
                product = 1;
            }
        }

        return ColumnProducts.Dot(residuals[robust..], residuals[robust..]) + (settings.Temper * (freedom + 1) * (logarithms + Math.Log(product)));
    }

    private static void Clamp(Span<double> parameters, ReadOnlySpan<double> low, ReadOnlySpan<double> high)
    {
        for (var j = 0; j < low.Length; j++)
        {
            parameters[j] = Math.Clamp(parameters[j], low[j], high[j]);
        }
    }

    private void Linearize(LeastSquaresProblem problem, Span<double> parameters, FitSettings settings)
    {
        problem.Jacobian(parameters, _residuals, _jacobian);
        var robust = settings.RobustRows;
        double freedom = settings.DegreesOfFreedom, factor = settings.Temper * (freedom + 1);
        for (var i = 0; i < robust; i++)
        {
            _weights[i] = factor / (freedom + (_residuals[i] * _residuals[i]));
        }

        for (var j = 0; j < _count; j++)
        {
            ReadOnlySpan<double> column = _jacobian.AsSpan(j * _rows, _rows);
            if (robust > 0)
            {
                ColumnProducts.Multiply(_weights.AsSpan(0, robust), column, _weighted);
                column[robust..].CopyTo(_weighted.AsSpan(robust));
                column = _weighted;
            }

            ColumnProducts.Write(column, _jacobian, _residuals, _products.AsSpan(0, j + 2));
            for (var k = 0; k <= j; k++)
            {
                _matrix[(j * _count) + k] = _products[k];
                _matrix[(k * _count) + j] = _products[k];
            }

            _gradient[j] = _products[j + 1];
        }
    }

    private void Hold(ReadOnlySpan<double> parameters, ReadOnlySpan<double> low, ReadOnlySpan<double> high)
    {
        _matrix.CopyTo(_held, 0);
        for (var j = 0; j < _count; j++)
        {
            _step[j] = -_gradient[j];
        }

        for (var j = 0; j < low.Length; j++)
        {
            var outward = (parameters[j] <= low[j] && _gradient[j] > 0) || (parameters[j] >= high[j] && _gradient[j] < 0);
            if (!outward)
            {
                continue;
            }

            for (var k = 0; k < _count; k++)
            {
                _held[(j * _count) + k] = 0;
                _held[(k * _count) + j] = 0;
            }

            _held[(j * _count) + j] = 1;
            _step[j] = 0;
        }
    }

    private double Try(ReadOnlySpan<double> parameters, ReadOnlySpan<double> low, ReadOnlySpan<double> high)
    {
        var moved = 0.0;
        for (var j = 0; j < _count; j++)
        {
            var next = parameters[j] + _step[j];
            if (!double.IsFinite(next))
            {
                next = parameters[j];
            }

            _trial[j] = j < low.Length ? Math.Clamp(next, low[j], high[j]) : next;
            _step[j] = _trial[j] - parameters[j];
            moved = Math.Max(moved, Math.Abs(_step[j]) / (Math.Abs(parameters[j]) + 1e-30));
        }

        return moved;
    }

    private double Predicted()
    {
        var fall = 0.0;
        for (var j = 0; j < _count; j++)
        {
            var product = 0.0;
            for (var k = 0; k < _count; k++)
            {
                product += _matrix[(j * _count) + k] * _step[k];
            }

            fall -= _step[j] * ((2 * _gradient[j]) + product);
        }

        return fall;
    }
}
