using System.Globalization;
using FermentWatch.Monitoring.Batches.Cleaning;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>Checks against R 4.2.2: pracma 2.4.2 for the identifier, robustbase 0.95.0 for the scale of published copper readings.</summary>
public sealed class HampelTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "ReferenceData", "statistics");

    [Fact]
    public void ReferenceSeries_MarksTheSameOutliersAndReplacements()
    {
        var values = Column("hampel_series.csv");
        var deviations = new double[values.Length];
        Hampel.Mark(values, 2, 3, 0, deviations);
        var rows = File.ReadAllLines(Path.Combine(Folder, "hampel.csv")).Skip(1).ToList();
        var expected = rows.Where(row => row.Contains("outlier_index1", StringComparison.Ordinal)).Select(row => (int)Value(row) - 1);

        // The reference leaves the two values at either end unjudged.
        var found = Enumerable.Range(2, values.Length - 4).Where(i => deviations[i] != 0);
        Assert.Equal(expected, found);
        for (var i = 2; i < values.Length - 2; i++)
        {
            var row = rows.Single(text => text.Contains($",y_{i + 1},", StringComparison.Ordinal));
            Assert.Equal(Value(row), values[i] - deviations[i], 9);
        }
    }

    [Fact]
    public void CopperReadings_HaveThePublishedMedianAndScale()
    {
        var rows = File.ReadAllLines(Path.Combine(Folder, "robust-scale.csv"));
        var values = Column("chem.csv");
        Assert.Equal(Value(rows.Single(row => row.Contains(",median,", StringComparison.Ordinal))), Hampel.MedianInPlace([.. values]), 9);
        Assert.Equal(Value(rows.Single(row => row.Contains(",mad_1.4826,", StringComparison.Ordinal))), Hampel.ScaleInPlace([.. values]), 6);
    }

    [Fact]
    public void SpikeAtTheEnd_IsMarked()
    {
        double[] values = [50, 49.9, 49.7, 49.6, 49.4, 49.3, 60];
        var deviations = new double[values.Length];
        Hampel.Mark(values, 3, 3, 2.5, deviations);
        Assert.Equal([6], Enumerable.Range(0, values.Length).Where(i => deviations[i] != 0));
    }

    private static double[] Column(string file) =>
        [.. File.ReadAllLines(Path.Combine(Folder, file)).Skip(1).Select(line => double.Parse(line, CultureInfo.InvariantCulture))];

    // The value stands after the quantity, and the method before it may hold commas in quotes.
    private static double Value(string row)
    {
        var plain = string.Concat(row.Split('"').Where((_, index) => index % 2 == 0));
        return double.Parse(plain.Split(',')[6], CultureInfo.InvariantCulture);
    }
}
