using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>The sums behind the normal equations, against sums of decimals, for every length of rest and every number of columns.</summary>
public class ColumnProductsTests
{
    [Fact]
    public void Products_EqualExactSums_AloneAndBesideOthers()
    {
        var random = new Random(12);
        for (var rows = 1; rows <= 41; rows++)
        {
            for (var columns = 1; columns <= 10; columns++)
            {
                double[] column = Draw(random, rows), right = Draw(random, rows), block = Draw(random, rows * columns);
                var products = new double[columns + 1];
                ColumnProducts.Write(column, block, right, products);
                for (var k = 0; k <= columns; k++)
                {
                    var other = k == columns ? right : block[(k * rows)..((k + 1) * rows)];
                    var exact = (double)column.Zip(other, (a, b) => (decimal)a * (decimal)b).Sum();
                    Assert.True(Math.Abs(exact - products[k]) < 1e-12, $"{rows} rows, {columns} columns, product {k}: {products[k]} instead of {exact}");
                    Assert.Equal(ColumnProducts.Dot(column, other), products[k]);
                }

                var weighted = new double[rows];
                ColumnProducts.Multiply(column, right, weighted);
                Assert.Equal(column.Zip(right, (a, b) => a * b), weighted);
            }
        }
    }

    private static double[] Draw(Random random, int count) => [.. Enumerable.Range(0, count).Select(_ => Math.Round((2 * random.NextDouble()) - 1, 6))];
}
