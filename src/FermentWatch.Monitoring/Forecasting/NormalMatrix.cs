namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Small symmetric positive definite systems, scaled to a unit diagonal before Cholesky's decomposition.</summary>
internal sealed class NormalMatrix(int size)
{
    private readonly double[] _lower = new double[size * size];
    private readonly double[] _scale = new double[size];
    private readonly double[] _pivot = new double[size];

    /// <summary>Logarithm of the determinant of the matrix decomposed last, which was found positive definite.</summary>
    public double LogDeterminant()
    {
        var logarithm = 0.0;
        for (var i = 0; i < size; i++)
        {
            logarithm += Math.Log(_pivot[i]) + (2 * Math.Log(_scale[i]));
        }

        return logarithm;
    }

    /// <summary>Decomposes D (S + damping I) D, with D² the diagonal and S the matrix of unit diagonal. False when not positive definite.</summary>
    public bool TryDecompose(ReadOnlySpan<double> matrix, double damping)
    {
        for (var i = 0; i < size; i++)
        {
            var diagonal = matrix[(i * size) + i];
            if (!double.IsFinite(diagonal))
            {
                return false;
            }

            _scale[i] = diagonal > 0 ? Math.Sqrt(diagonal) : 1;
        }

        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[(i * size) + j] / (_scale[i] * _scale[j]);
                if (i == j)
                {
                    sum += damping;
                }

                for (var k = 0; k < j; k++)
                {
                    sum -= _lower[(i * size) + k] * _lower[(j * size) + k];
                }

                if (i != j)
                {
                    _lower[(i * size) + j] = sum / _lower[(j * size) + j];
                }
                else if (sum > 1e-17)
                {
                    _pivot[i] = sum;
                    _lower[(i * size) + i] = Math.Sqrt(sum);
                }
                else
                {
                    return false;
                }
            }
        }

        return true;
    }

    /// <summary>Replaces <paramref name="vector"/> by the solution of the system decomposed last.</summary>
    public void Solve(Span<double> vector)
    {
        for (var i = 0; i < size; i++)
        {
            var sum = vector[i] / _scale[i];
            for (var k = 0; k < i; k++)
            {
                sum -= _lower[(i * size) + k] * vector[k];
            }

            vector[i] = sum / _lower[(i * size) + i];
        }

        for (var i = size - 1; i >= 0; i--)
        {
            var sum = vector[i];
            for (var k = i + 1; k < size; k++)
            {
                sum -= _lower[(k * size) + i] * vector[k];
            }

            vector[i] = sum / _lower[(i * size) + i];
        }

        for (var i = 0; i < size; i++)
        {
            vector[i] /= _scale[i];
        }
    }
}
