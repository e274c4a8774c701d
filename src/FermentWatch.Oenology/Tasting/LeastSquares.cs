namespace FermentWatch.Oenology.Tasting;

/// <summary>Least squares for a handful of terms, by the normal equations with pivoting.</summary>
internal static class LeastSquares
{
    /// <summary>Slopes of the terms, or null when the terms can't be told apart.</summary>
    /// <param name="rows">Terms, then the answer.</param>
    /// <param name="terms">How many terms.</param>
    public static double[]? Solve(List<double[]> rows, int terms)
    {
        var matrix = Enumerable.Range(0, terms)
            .Select(i => Enumerable.Range(0, terms + 1).Select(j => rows.Sum(row => row[i] * row[j])).ToArray())
            .ToArray();
        var size = matrix.Max(row => row.Take(terms).Max(Math.Abs));
        for (var column = 0; column < terms; column++)
        {
            var pivot = Enumerable.Range(column, terms - column).MaxBy(row => Math.Abs(matrix[row][column]));
            (matrix[column], matrix[pivot]) = (matrix[pivot], matrix[column]);
            if (!(Math.Abs(matrix[column][column]) > 1e-9 * size))
            {
                return null;
            }

            for (var row = 0; row < terms; row++)
            {
                var factor = row == column ? 0 : matrix[row][column] / matrix[column][column];
                for (var j = column; j <= terms; j++)
                {
                    matrix[row][j] -= factor * matrix[column][j];
                }
            }
        }

        return [.. Enumerable.Range(0, terms).Select(row => matrix[row][terms] / matrix[row][row])];
    }
}
