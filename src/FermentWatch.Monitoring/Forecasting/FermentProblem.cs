using System.Numerics;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>The curve against the readings: data rows, a Gaussian prior row for each parameter, and one row that can pull the end to a target.</summary>
internal sealed class FermentProblem : LeastSquaresProblem
{
    // No curve is right: how far it may be off grows with the fall that lies between a reading and now, so that the tail counts
    // most. Calibrated with LossPerHour and the blur of an end on drawn ferments of one structure.
    private const double DiscrepancyPart = 0.06;

    // Few cells are slow and, starved, lose their activity sooner: a rate e times lower goes with this much more loss, in logarithms.
    private const double LossWithRate = -0.3;

    private readonly FermentCurve _curve;
    private readonly CurveData _data;
    private readonly int[] _cell;
    private readonly double[] _part;
    private readonly double[] _spreads;
    private readonly double[] _discrepancy;
    private readonly double[] _gravity;
    private readonly Vector<double>[] _moved;
    private readonly double[] _moves = new double[CurveParameter.Count];
    private readonly double[] _center = new double[CurveParameter.Count];
    private readonly double[] _spread = new double[CurveParameter.Count];
    private readonly double[] _at = new double[CurveParameter.Count];
    private int _movedLength;
    private double _noise;

    public FermentProblem(FermentCurve curve, CurveData data, ReadOnlySpan<double> center, ReadOnlySpan<double> spread)
    {
        (_curve, _data) = (curve, data);
        center.CopyTo(_center);
        spread.CopyTo(_spread);
        _gravity = new double[curve.Hours.Length];
        _cell = new int[data.Count];
        _part = new double[data.Count];
        _spreads = new double[data.Count];
        _discrepancy = new double[data.Count];
        var latest = CurveData.Median(data.Points.AsSpan(Math.Max(0, data.Count - 6)));
        var step = curve.Hours[1] - curve.Hours[0];
        for (var i = 0; i < data.Count; i++)
        {
            var position = step > 0 ? data.Hours[i] / step : 0;
            _cell[i] = Math.Clamp((int)position, 0, curve.PastCount - 1);
            _part[i] = Math.Clamp(position - _cell[i], 0, 1);
            _discrepancy[i] = DiscrepancyPart * Math.Max(0, data.Points[i] - latest);
        }

        _moved = new Vector<double>[FermentCurve.MovedGroups * curve.Hours.Length];
        for (var j = 0; j < CurveParameter.Count; j++)
        {
            _moves[j] = 1e-5 * _spread[j];
        }

        Noise = 2;
    }

    /// <summary>Standard deviation of a full data point. [points]</summary>
    public double Noise
    {
        get => _noise;
        set
        {
            _noise = value;
            for (var i = 0; i < _data.Count; i++)
            {
                var noise = value * _data.RelativeSpread[i];
                _spreads[i] = Math.Sqrt((noise * noise) + (_discrepancy[i] * _discrepancy[i]));
            }
        }
    }

    /// <summary>Where the end is pulled to. [points]</summary>
    public double EndTarget { get; set; }

    /// <summary>How hard: standard deviation of the pull, or 0 for none. [points]</summary>
    public double EndSpread { get; set; }

    public override int ParameterCount => CurveParameter.Count;

    public override int RowCount => _data.Count + CurveParameter.Count + 1;

    /// <summary>Gravity on the grid of the curve for the given parameters, past and future. [points]</summary>
    public ReadOnlySpan<double> Gravity(ReadOnlySpan<double> parameters)
    {
        _curve.Run(parameters, _gravity);
        return _gravity;
    }

    /// <summary>Gravity on the whole grid with each parameter moved in turn, in the layout of <see cref="FermentCurve.RunMoved"/>. [points]</summary>
    public ReadOnlySpan<Vector<double>> MovedGravity(ReadOnlySpan<double> parameters, ReadOnlySpan<double> moves)
    {
        _curve.RunMoved(parameters, moves, _gravity.Length, _moved);
        _movedLength = 0;
        return _moved;
    }

    public override void Residuals(ReadOnlySpan<double> parameters, Span<double> residuals)
    {
        var length = EndSpread > 0 ? _gravity.Length : _curve.PastCount + 1;
        Move(parameters, length);
        for (var (i, from) = (0, CurveParameter.Count / Vector<double>.Count * length); i < length; i++)
        {
            _gravity[i] = _moved[from + i][CurveParameter.Count % Vector<double>.Count];
        }

        for (var i = 0; i < _data.Count; i++)
        {
            var low = _gravity[_cell[i]];
            var fitted = low + (_part[i] * (_gravity[_cell[i] + 1] - low));
            residuals[i] = (fitted - _data.Points[i]) / _spreads[i];
        }

        for (var j = 0; j < CurveParameter.Count; j++)
        {
            residuals[_data.Count + j] = (parameters[j] - _center[j]) / _spread[j];
        }

        var faster = parameters[CurveParameter.LogRate] - _center[CurveParameter.LogRate];
        residuals[_data.Count + CurveParameter.LogLoss] -= LossWithRate * faster / _spread[CurveParameter.LogLoss];

        residuals[^1] = EndSpread > 0 ? (_gravity[^1] - EndTarget) / EndSpread : 0;
    }

    /// <summary>Forward differences: half the cost of central ones, and the accuracy of the slope only sets the pace.</summary>
    public override void Jacobian(Span<double> parameters, ReadOnlySpan<double> residuals, Span<double> jacobian)
    {
        var rows = RowCount;
        var lanes = Vector<double>.Count;
        var length = EndSpread > 0 ? _gravity.Length : _curve.PastCount + 1;
        if (length != _movedLength || !parameters.SequenceEqual(_at))
        {
            Move(parameters, length);
        }

        for (var first = 0; first < CurveParameter.Count; first += lanes)
        {
            var gravity = _moved.AsSpan(first / lanes * length, length);
            var count = Math.Min(lanes, CurveParameter.Count - first);
            for (var i = 0; i < _data.Count; i++)
            {
                var low = gravity[_cell[i]];
                var ahead = (low + (_part[i] * (gravity[_cell[i] + 1] - low)) - new Vector<double>(_data.Points[i])) / _spreads[i];
                for (var lane = 0; lane < count; lane++)
                {
                    jacobian[((first + lane) * rows) + i] = (ahead[lane] - residuals[i]) / _moves[first + lane];
                }
            }

            for (var lane = 0; lane < count; lane++)
            {
                var column = jacobian.Slice((first + lane) * rows, rows);
                column[_data.Count..].Clear();
                column[_data.Count + first + lane] = 1 / _spread[first + lane];
                column[^1] = EndSpread > 0 ? (((gravity[^1][lane] - EndTarget) / EndSpread) - residuals[^1]) / _moves[first + lane] : 0;
            }
        }

        jacobian[(CurveParameter.LogRate * rows) + _data.Count + CurveParameter.LogLoss] = -LossWithRate / _spread[CurveParameter.LogLoss];
    }

    // Most trials are accepted, and then the derivatives are asked for: they come along with the residuals in the lanes that one curve leaves idle.
    private void Move(ReadOnlySpan<double> parameters, int length)
    {
        _curve.RunMoved(parameters, _moves, length, _moved);
        parameters.CopyTo(_at);
        _movedLength = length;
    }
}
