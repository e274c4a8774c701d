namespace FermentWatch.Monitoring.Forecasting;

/// <summary>The likeliest curve, and the weight that its readings deserve.</summary>
internal sealed class CurveFitter
{
    private static readonly double[] Temperings = [1, 0.1];

    private readonly CurvePrior _prior;
    private readonly CurveData _data;
    private readonly double _trust;
    private readonly FermentProblem _rough;

    /// <param name="prior">Rows of the prior.</param>
    /// <param name="data">The readings.</param>
    /// <param name="curve">The grid.</param>
    /// <param name="rough">A grid of fewer steps, on which the starts are compared.</param>
    /// <param name="trust">Further factor on the weight of the readings, 0 to 1.</param>
    public CurveFitter(CurvePrior prior, CurveData data, FermentCurve curve, FermentCurve rough, double trust)
    {
        (_prior, _data, _trust) = (prior, data, trust);
        Problem = new FermentProblem(curve, data, prior.Center, prior.Spread);
        _rough = new FermentProblem(rough, data, prior.Center, prior.Spread);
        Solver = new LevenbergMarquardt(CurveParameter.Count, Problem.RowCount);
    }

    public FermentProblem Problem { get; }

    public LevenbergMarquardt Solver { get; }

    /// <summary>Factor on the variance of everything learned, from correlated residuals.</summary>
    public double Inflation { get; private set; } = 1;

    /// <summary>Weights and stopping of the fits along the profile.</summary>
    public FitSettings ProfileSettings => Settings(10, 5e-3, 1 / Inflation);

    /// <summary>Fits from several starts, learns noise and correlation, and fits again.</summary>
    public double[] Fit(CancellationToken cancellation)
    {
        double[] best = [.. _prior.Center];
        if (_data.Count == 0)
        {
            return best;
        }

        var lowest = double.PositiveInfinity;
        var start = new double[CurveParameter.Count];
        ReadOnlySpan<(double Rate, double Onset, double Loss)> starts = [(0, 0, 0), (-1, 0.7, 0), (0.8, -0.5, 1.5)];
        Problem.Noise = 2;
        _rough.Noise = 2;
        foreach (var (rate, onset, loss) in starts)
        {
            _prior.Center.CopyTo(start, 0);
            start[CurveParameter.LogRate] += rate;
            start[CurveParameter.LogOnset] += onset;
            start[CurveParameter.LogLoss] += loss;
            foreach (var temper in Temperings)
            {
                var outcome = Solver.Minimize(_rough, start, _prior.Low, _prior.High, Settings(15, 0.2, temper), cancellation);
                if (temper == Temperings[^1] && outcome.Cost < lowest)
                {
                    lowest = outcome.Cost;
                    start.CopyTo(best, 0);
                }
            }
        }

        for (var round = 0; round < 3; round++)
        {
            Solver.Minimize(Problem, best, _prior.Low, _prior.High, Settings(12, 1e-2, 1 / Inflation), cancellation);
            LearnNoise();
        }

        Solver.Minimize(Problem, best, _prior.Low, _prior.High, Settings(60, 1e-6, 1 / Inflation), cancellation);
        return best;
    }

    private FitSettings Settings(int iterations, double costTolerance, double temper) => new()
    {
        MaxIterations = iterations,
        StepTolerance = 1e-9,
        CostTolerance = costTolerance,
        RobustRows = _data.Count,
        Temper = temper * _trust,
    };

    private void LearnNoise()
    {
        var residuals = Solver.LastResiduals[.._data.Count];
        var scale = 1.0;
        for (var i = 0; i < 30; i++)
        {
            var sum = 0.0;
            foreach (var residual in residuals)
            {
                var square = residual * residual;
                sum += 5 * square / (4 + (square / scale));
            }

            // Two degrees of a prior at 0.7 points: a handful of readings can't claim to be exact.
            scale = (sum + (2 * 0.5 / (Problem.Noise * Problem.Noise))) / (residuals.Length + 2);
        }

        Problem.Noise = Math.Clamp(Problem.Noise * Math.Sqrt(scale), 0.25, 30);
        var span = Math.Max(_data.Hours[^1] - _data.Hours[0], 1);
        var block = (int)Math.Clamp(_data.Count * 12 / span, 2, Math.Max(2, _data.Count / 5));
        Inflation = CorrelatedNoise.Inflation(residuals, block);
    }
}
