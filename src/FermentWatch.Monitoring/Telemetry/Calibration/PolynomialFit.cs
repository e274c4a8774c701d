namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Polynomials by least squares.</summary>
public static class PolynomialFit
{
    /// <summary>The polynomial of an order with the least sum of squared differences in y.</summary>
    /// <remarks>Centered and scaled to −1 to 1, then solved by Householder reflections, which lose no digits to squaring.</remarks>
    /// <param name="x">At least order + 1 different values.</param>
    /// <param name="y">As many values.</param>
    /// <param name="order">1 or more.</param>
    /// <exception cref="ArgumentException">Lengths differ, or too few different x.</exception>
    public static CenteredPolynomial Of(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int order)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(order, 1);
        var distinct = new HashSet<double>();
        var (lowest, highest) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var value in x)
        {
            distinct.Add(value);
            (lowest, highest) = (Math.Min(lowest, value), Math.Max(highest, value));
        }

        if (x.Length != y.Length || distinct.Count <= order)
        {
            throw new ArgumentException($"A polynomial of order {order} needs {order + 1} different x and as many y; there are {distinct.Count} and {y.Length}.", nameof(x));
        }

        var (center, halfWidth) = ((lowest + highest) / 2, (highest - lowest) / 2);
        var columns = new double[order + 1][];
        for (var column = 0; column <= order; column++)
        {
            columns[column] = new double[x.Length];
            for (var row = 0; row < x.Length; row++)
            {
                columns[column][row] = column == 0 ? 1 : columns[column - 1][row] * ((x[row] - center) / halfWidth);
            }
        }

        return new CenteredPolynomial(center, halfWidth, ValueList.Of<double>(Solve(columns, y.ToArray())));
    }

    private static double[] Solve(double[][] columns, double[] y)
    {
        var diagonal = new double[columns.Length];
        for (var k = 0; k < columns.Length; k++)
        {
            var mirror = columns[k];
            var norm = Math.Sqrt(Dot(mirror, mirror, k));
            diagonal[k] = mirror[k] > 0 ? -norm : norm;
            mirror[k] -= diagonal[k];
            var length = Dot(mirror, mirror, k);
            for (var other = k + 1; other < columns.Length; other++)
            {
                Reflect(columns[other], mirror, length, k);
            }

            Reflect(y, mirror, length, k);
        }

        var solution = new double[columns.Length];
        for (var k = columns.Length - 1; k >= 0; k--)
        {
            var rest = y[k];
            for (var other = k + 1; other < columns.Length; other++)
            {
                rest -= columns[other][k] * solution[other];
            }

            solution[k] = rest / diagonal[k];
        }

        return solution;
    }

    private static void Reflect(double[] values, double[] mirror, double length, int from)
    {
        var share = 2 * Dot(mirror, values, from) / length;
        for (var i = from; i < values.Length; i++)
        {
            values[i] -= share * mirror[i];
        }
    }

    private static double Dot(double[] left, double[] right, int from)
    {
        var sum = 0.0;
        for (var i = from; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }
}
