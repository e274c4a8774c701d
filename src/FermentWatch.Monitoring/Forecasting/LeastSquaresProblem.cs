namespace FermentWatch.Monitoring.Forecasting;

/// <summary>A sum of squares to be made small: rows of residuals as a function of parameters.</summary>
public abstract class LeastSquaresProblem
{
    private double[] _ahead = [];
    private double[] _behind = [];

    /// <summary>Number of parameters.</summary>
    public abstract int ParameterCount { get; }

    /// <summary>Number of residual rows.</summary>
    public abstract int RowCount { get; }

    /// <summary>Writes the residuals, each divided by its standard deviation where that is known.</summary>
    /// <param name="parameters">Parameters, <see cref="ParameterCount"/> of them.</param>
    /// <param name="residuals">Receives <see cref="RowCount"/> numbers; one that is not finite rejects the trial.</param>
    public abstract void Residuals(ReadOnlySpan<double> parameters, Span<double> residuals);

    /// <summary>Writes the derivatives of the residuals; here by central differences, exact to about ten digits.</summary>
    /// <param name="parameters">Where.</param>
    /// <param name="residuals">The residuals there.</param>
    /// <param name="jacobian">Receives one block of <see cref="RowCount"/> numbers for each parameter.</param>
    public virtual void Jacobian(Span<double> parameters, ReadOnlySpan<double> residuals, Span<double> jacobian)
    {
        var rows = RowCount;
        if (_ahead.Length < rows)
        {
            _ahead = new double[rows];
            _behind = new double[rows];
        }

        for (var j = 0; j < ParameterCount; j++)
        {
            var middle = parameters[j];
            var step = Math.Cbrt(double.BitIncrement(1) - 1) * (middle != 0 ? Math.Abs(middle) : 1);
            parameters[j] = middle + step;
            Residuals(parameters, _ahead.AsSpan(0, rows));
            parameters[j] = middle - step;
            Residuals(parameters, _behind.AsSpan(0, rows));
            parameters[j] = middle;
            var width = middle + step - (middle - step);
            for (var i = 0; i < rows; i++)
            {
                jacobian[(j * rows) + i] = (_ahead[i] - _behind[i]) / width;
            }
        }
    }
}
