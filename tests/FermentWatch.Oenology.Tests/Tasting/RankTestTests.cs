using System.Globalization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class RankTestTests
{
    private const string Table = "sensory-ranking-friedman.csv";

    [Fact]
    public void ExactCriticalValues_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("Friedman rank test", StringComparison.Ordinal),
        rows: 12,
        independentRows: 12,
        row => FriedmanDistribution.CriticalStatistic((int)row.Input("samples"), (int)row.Input("assessors"), row.Input("alpha")) ?? double.NaN);

    [Fact]
    public void ChiSquareCriticalValues_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("chi-square", StringComparison.Ordinal),
        rows: 4,
        independentRows: 4,
        row => UpperTails.ChiSquareCritical(row.Input("alpha"), (int)row.Input("samples") - 1));

    [Fact]
    public void LeastDifferences_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("least significant", StringComparison.Ordinal),
        rows: 2,
        independentRows: 2,
        row => RankTest.LeastDifference((int)row.Input("samples"), (int)row.Input("assessors")));

    [Fact]
    public void WorkedStatistic_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("Friedman F worked", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => RankTest.Statistic(
            row.Inputs["rank_sums"].Split(',').Sum(sum => Math.Pow(double.Parse(sum, CultureInfo.InvariantCulture), 2)),
            (int)row.Input("samples"),
            (int)row.Input("assessors")));

    // All agree: whatever the first says, the others must say the same. (1/k!)^(n-1).
    [Theory]
    [InlineData(3, 3, 1.0 / 36, TastingVerdict.Significant)]
    [InlineData(3, 2, 1.0 / 6, TastingVerdict.NotEnoughTasters)]
    [InlineData(4, 2, 1.0 / 24, TastingVerdict.Significant)]
    [InlineData(5, 3, 1.0 / 14400, TastingVerdict.Significant)]
    [InlineData(6, 3, 1.0 / 518400, TastingVerdict.Significant)]
    [InlineData(2, 5, 1.0 / 16, TastingVerdict.NotEnoughTasters)]
    public void FullAgreement_HasItsExactProbability(int glasses, int tasters, double probability, TastingVerdict verdict)
    {
        var row = Enumerable.Range(1, glasses).Select(rank => (double)rank).ToArray();
        var result = RankTest.Judge([.. Enumerable.Repeat(row, tasters)]);
        Assert.True(result.IsExact);
        Assert.Equal(probability, result.Probability, 1e-12);
        Assert.Equal(verdict, result.Verdict);
        Assert.Equal(tasters * (glasses - 1), result.Statistic, 1e-9);
    }

    // Two tasters, three glasses, the second and third tied by both. By hand: each has three orders of (1, 2.5, 2.5); the first taster's lone
    // glass meets the second's in 3 of 9 cases. Ranks summed: (2, 5, 5), squares 54; otherwise (3.5, 3.5, 5), squares 49.5.
    [Fact]
    public void Ties_AreCountedExactly()
    {
        var result = RankTest.Judge([[1, 2.5, 2.5], [1, 2.5, 2.5]]);
        Assert.Equal(1.0 / 3, result.Probability, 1e-12);
        Assert.Equal(1, RankTest.Judge([[1, 2.5, 2.5], [2.5, 1, 2.5]]).Probability, 1e-12);

        // Corrected for ties the statistic of full agreement is n(k - 1) x share: here every taster sees two classes, F = 4.
        Assert.Equal(4, result.Statistic, 1e-9);
    }

    [Fact]
    public void NobodyTellsGlassesApart_SaysNothing()
    {
        var result = RankTest.Judge([[2, 2, 2], [2, 2, 2], [2, 2, 2]]);
        Assert.Equal(1, result.Probability, 1e-12);
        Assert.Equal(0, result.Statistic);
        Assert.Equal(TastingVerdict.NotSignificant, result.Verdict);
    }

    [Fact]
    public void LargePanelOfSixGlasses_FallsBackOnChiSquareAndSaysSo()
    {
        var rows = Enumerable.Range(0, 30).Select(taster => (IReadOnlyList<double>)[.. Enumerable.Range(0, 6).Select(glass => (double)(((glass + taster) % 6) + 1))]).ToList();
        var result = RankTest.Judge(rows);
        Assert.False(result.IsExact);
        Assert.Equal(0, result.Statistic, 1e-9);
        Assert.Equal(1, result.Probability, 1e-9);
    }

    [Fact]
    public void ScoresBecomeRanks_TiesShared() => Assert.Equal([2.5, 1, 4, 2.5], RankTest.RanksOf([6, 8, 3, 6]));

    [Theory]
    [InlineData(new[] { 1.0, 1, 3 })]
    [InlineData(new[] { 0.0, 1, 2 })]
    [InlineData(new[] { 9.0, 5, 1 })]
    public void WhatIsNoRanking_IsRefused(double[] row) => Assert.Contains("not a ranking", Assert.Throws<ArgumentException>(() => RankTest.Judge([row])).Message, StringComparison.Ordinal);

    [Fact]
    public void RowsOfUnequalLength_AreRefused() => Assert.Throws<ArgumentException>(() => RankTest.Judge([[1, 2, 3], [1, 2]]));

    // Printed F tables (from memory): F(0.05; 2, 10) = 4.103, F(0.05; 1, 10) = 4.965, F(0.05; 5, 20) = 2.711, F(0.01; 2, 10) = 7.559.
    [Theory]
    [InlineData(4.103, 2, 10, 0.05)]
    [InlineData(4.965, 1, 10, 0.05)]
    [InlineData(2.711, 5, 20, 0.05)]
    [InlineData(7.559, 2, 10, 0.01)]
    public void UpperTailOfF_AgreesWithPrintedTables(double value, int above, int below, double probability) =>
        Assert.Equal(probability, UpperTails.F(value, above, below), 2e-5);

    // With 2 degrees above the tail is (1 + 2F/d)^(-d/2), by integration.
    [Theory]
    [InlineData(0.3, 4)]
    [InlineData(1.7, 7)]
    [InlineData(9, 3)]
    public void UpperTailOfF_AgreesWithItsClosedForm(double value, int below) =>
        Assert.Equal(Math.Pow(1 + (2 * value / below), -below / 2.0), UpperTails.F(value, 2, below), 1e-9);
}
