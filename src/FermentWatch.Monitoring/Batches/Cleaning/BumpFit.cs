namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Least squares of a smooth curve (a cubic) with a constant added over part of it: a bump or a lasting step.</summary>
internal static class BumpFit
{
    private const int Terms = 5;

    /// <summary>Sum of squared residuals over positions <paramref name="from"/> to <paramref name="until"/> (excluded). [points²]</summary>
    /// <param name="sums">The series.</param>
    /// <param name="from">First position.</param>
    /// <param name="until">Position after the last.</param>
    /// <param name="raisedFrom">First position of the part with the constant.</param>
    /// <param name="raisedUntil">Position after its last.</param>
    /// <param name="height">The constant. [points]</param>
    public static double Residual(LineSums sums, int from, int until, int raisedFrom, int raisedUntil, out double height)
    {
        Span<double> matrix = stackalloc double[Terms * (Terms + 1)];
        matrix.Clear();
        Span<double> row = stackalloc double[Terms];
        var (start, end) = (sums.Hours[from], sums.Hours[until - 1]);
        var half = Math.Max((end - start) / 2, 1e-6);
        for (var i = from; i < until; i++)
        {
            Fill(row, (sums.Hours[i] - start - half) / half, i >= raisedFrom && i < raisedUntil);
            for (var r = 0; r < Terms; r++)
            {
                for (var c = r; c < Terms; c++)
                {
                    matrix[(r * (Terms + 1)) + c] += row[r] * row[c];
                }

                matrix[(r * (Terms + 1)) + Terms] += row[r] * sums.Points[i];
            }
        }

        Span<double> solution = stackalloc double[Terms];
        Solve(matrix, solution);
        var sum = 0.0;
        for (var i = from; i < until; i++)
        {
            Fill(row, (sums.Hours[i] - start - half) / half, i >= raisedFrom && i < raisedUntil);
            var residual = sums.Points[i];
            for (var r = 0; r < Terms; r++)
            {
                residual -= solution[r] * row[r];
            }

            sum += residual * residual;
        }

        height = solution[Terms - 1];
        return sum;
    }

    private static void Fill(Span<double> row, double x, bool isRaised)
    {
        row[0] = 1;
        row[1] = x;
        row[2] = x * x;
        row[3] = x * x * x;
        row[4] = isRaised ? 1 : 0;
    }

    // Gauss with the symmetric half filled in; a vanishing pivot leaves its term out.
    private static void Solve(Span<double> matrix, Span<double> solution)
    {
        const int Width = Terms + 1;
        for (var r = 1; r < Terms; r++)
        {
            for (var c = 0; c < r; c++)
            {
                matrix[(r * Width) + c] = matrix[(c * Width) + r];
            }
        }

        var scale = matrix[0];
        for (var p = 0; p < Terms; p++)
        {
            var pivot = matrix[(p * Width) + p];
            if (Math.Abs(pivot) < 1e-9 * scale)
            {
                continue;
            }

            for (var r = p + 1; r < Terms; r++)
            {
                var factor = matrix[(r * Width) + p] / pivot;
                for (var c = p; c < Width; c++)
                {
                    matrix[(r * Width) + c] -= factor * matrix[(p * Width) + c];
                }
            }
        }

        for (var r = Terms - 1; r >= 0; r--)
        {
            var pivot = matrix[(r * Width) + r];
            var value = matrix[(r * Width) + Terms];
            for (var c = r + 1; c < Terms; c++)
            {
                value -= matrix[(r * Width) + c] * solution[c];
            }

            solution[r] = Math.Abs(pivot) < 1e-9 * scale ? 0 : value / pivot;
        }
    }
}
