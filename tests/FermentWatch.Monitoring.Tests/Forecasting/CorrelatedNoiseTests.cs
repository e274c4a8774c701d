using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>Against R and exact covariance algebra (scipy); data: Lake Huron levels 1875-1972, Brockwell and Davis 1991.</summary>
public class CorrelatedNoiseTests
{
    [Fact]
    public void LakeHuron_SlopeErrorAndCorrelationAsPublished()
    {
        var (years, levels) = ReferenceFiles.Columns("lakehuron.csv");
        var line = SlopeTest.Through(years, levels)!.Value;
        Assert.Equal(ReferenceFiles.Check("ar1_lakehuron_ols", "slope"), line.Slope, 1e-10);
        Assert.Equal(ReferenceFiles.Check("ar1_lakehuron_ols", "se_slope"), line.StandardError, 1e-10);
        Assert.Equal(ReferenceFiles.Check("ar1_lakehuron_acf", "acf1"), line.LagOne, 1e-4);

        // The same data with the noise modeled (generalized least squares) give 2.6 times the plain error; the limit formula gives 2.7.
        Assert.InRange(line.HonestError / line.StandardError, 2.5, 2.9);
    }

    [Theory]
    [InlineData(24, 0.3)]
    [InlineData(48, 0.3)]
    [InlineData(96, 0.3)]
    [InlineData(24, 0.6)]
    [InlineData(48, 0.6)]
    [InlineData(96, 0.6)]
    [InlineData(48, 0.9)]
    [InlineData(96, 0.9)]
    public void HonestError_IsTheTrueErrorOfACorrelatedSlope(int count, double rho)
    {
        var exact = ReferenceFiles.Check(
            $"ar1_slope_inflation_n{count}",
            string.Create(System.Globalization.CultureInfo.InvariantCulture, $"true_over_reported_se_rho{rho}"));
        var honest = new SlopeTest(0, 1, rho, count).HonestError;

        // The limit formula stands in for the exact ratio: 2 % off at moderate correlation, 2 % above it at strong one.
        Assert.Equal(exact, honest, 0.025 * exact);
    }

    [Fact]
    public void IndependentNoise_IsNotPenalized() => Assert.Equal(1, CorrelatedNoise.Inflation(-0.4));

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    public void SimulatedCorrelation_IsFound(double rho)
    {
        const int Seed = 4711;
        var random = new Random(Seed);
        var noise = new double[4000];
        for (var i = 1; i < noise.Length; i++)
        {
            noise[i] = (rho * noise[i - 1]) + Normal(random);
        }

        Assert.True(Math.Abs(CorrelatedNoise.LagOne(noise) - rho) < 0.05, $"seed {Seed}");
        var limit = (1 + rho) / (1 - rho);
        Assert.True(Math.Abs(CorrelatedNoise.Inflation(noise, 2) - limit) < 0.2 * limit, $"seed {Seed}");
    }

    [Fact]
    public void SlowWander_ShowsInBlocksEvenWhenNeighborsLookIndependent()
    {
        const int Seed = 12;
        var random = new Random(Seed);
        var noise = new double[960];
        for (var i = 0; i < noise.Length; i++)
        {
            noise[i] = Normal(random) + (0.8 * Math.Sin(i / 60.0));
        }

        Assert.True(CorrelatedNoise.Inflation(noise, 24) > 3 * CorrelatedNoise.Inflation(CorrelatedNoise.LagOne(noise)), $"seed {Seed}");
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
