using System.Globalization;

namespace FermentWatch.Oenology.Tests;

/// <summary>Runs a calculation over rows, reports the worst gap and every row that fails, not only the first.</summary>
internal static class ReferenceCheck
{
    /// <summary>Every row must agree within its tolerance; the table must hold as many rows as it did when it was copied.</summary>
    public static void AllAgree(
        string table,
        Func<ReferenceRow, bool> chosen,
        int rows,
        int independentRows,
        Func<ReferenceRow, double> compute,
        Func<ReferenceRow, bool>? independent = null)
    {
        independent ??= row => row.IsIndependent;
        var checkedRows = ReferenceTable.Read(table).Where(chosen).ToList();
        Assert.Equal(rows, checkedRows.Count);
        Assert.Equal(independentRows, checkedRows.Count(independent));

        Assert.All(checkedRows, row => Assert.True(independent(row) == (IndependentSources.Of(table, row) is not null), $"{row.Id}: independent or not?"));

        var failures = new List<string>();
        var worst = 0.0;
        var worstId = string.Empty;
        foreach (var row in checkedRows)
        {
            var gap = Math.Abs(compute(row) - row.ExpectedNumber);
            if (!(gap <= worst))
            {
                (worst, worstId) = (gap, row.Id);
            }

            if (!(gap <= row.ToleranceNumber + 1e-12))
            {
                failures.Add(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{row.Id}: {compute(row)} instead of {row.Expected} {row.Unit} (tolerance {row.Tolerance}; {row.Source})"));
            }
        }

        TestContext.Current.SendDiagnosticMessage(string.Create(
            CultureInfo.InvariantCulture,
            $"{table}: {rows} rows, {independentRows} independent, worst gap {worst:G3} {checkedRows[0].Unit} at {worstId}"));
        Assert.True(failures.Count == 0, string.Join(Environment.NewLine, failures));
    }

    /// <summary>A number must agree with one row within its tolerance.</summary>
    public static void Near(ReferenceRow row, double computed)
    {
        var gap = Math.Abs(computed - row.ExpectedNumber);
        Assert.True(
            gap <= row.ToleranceNumber + 1e-12,
            string.Create(CultureInfo.InvariantCulture, $"{row.Id}: {computed} instead of {row.Expected} {row.Unit} (tolerance {row.Tolerance}; {row.Source})"));
    }
}
