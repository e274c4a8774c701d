using System.Globalization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class DifferenceTestTests
{
    // Each row was compared with the table of the FAO manual where it lists that number of tasters.
    [Fact]
    public void TriangleTable_Agrees() => ReferenceCheck.AllAgree(
        "sensory-triangle-critical-values.csv",
        _ => true,
        rows: 84,
        independentRows: 84,
        row => Smallest(DifferenceMethod.Triangle, row));

    // Eight of them are printed by the Australian Wine Research Institute.
    [Fact]
    public void DuoTrioTable_Agrees() => ReferenceCheck.AllAgree(
        "sensory-duo-trio-and-paired-critical-values.csv",
        row => row.Quantity.StartsWith("duo-trio", StringComparison.Ordinal),
        rows: 37,
        independentRows: 37,
        row => Smallest(DifferenceMethod.DuoTrio, row));

    [Fact]
    public void PairedTable_Agrees() => ReferenceCheck.AllAgree(
        "sensory-duo-trio-and-paired-critical-values.csv",
        row => row.Quantity.StartsWith("paired", StringComparison.Ordinal) && row.Expected != "not possible",
        rows: 37,
        independentRows: 37,
        row => Smallest(DifferenceMethod.PairedTwoSided, row));

    [Fact]
    public void PairedTestThatTheTableCallsImpossible_HasNotEnoughTasters()
    {
        var row = Assert.Single(ReferenceTable.Read("sensory-duo-trio-and-paired-critical-values.csv"), row => row.Expected == "not possible");
        Assert.Null(DifferenceTest.SmallestSignificant(DifferenceMethod.PairedTwoSided, (int)row.Input("n"), row.Input("alpha")));
    }

    [Fact]
    public void OneOfThreeCounts_Agree() => ReferenceCheck.AllAgree(
        "sensory-forced-choice.csv",
        row => row.Quantity.StartsWith("smallest number of correct 3-AFC", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row => Smallest(DifferenceMethod.OneOfThree, row));

    [Fact]
    public void TrianglePower_Agrees() => ReferenceCheck.AllAgree(
        "sensory-method-guidance.csv",
        row => row.Quantity == "triangle power",
        rows: 3,
        independentRows: 3,
        row => DifferenceTest.Power(DifferenceMethod.Triangle, (int)row.Input("n"), row.Input("proportion_discriminators"), row.Input("alpha")));

    [Fact]
    public void TriangleProbability_Agrees() => ReferenceCheck.AllAgree(
        "sensory-method-guidance.csv",
        row => row.Quantity == "triangle p-value",
        rows: 3,
        independentRows: 3,
        row => DifferenceTest.ProbabilityByChance(DifferenceMethod.Triangle, (int)row.Input("n"), (int)row.Input("correct")));

    [Fact]
    public void GuessingCorrection_AgreesBothWays()
    {
        ReferenceCheck.AllAgree(
            "sensory-forced-choice.csv",
            row => row.Quantity.StartsWith("proportion correct expected", StringComparison.Ordinal),
            rows: 4,
            independentRows: 4,
            row => DifferenceTest.ShareRight(DifferenceMethod.OneOfThree, row.Input("detecting")));
        ReferenceCheck.AllAgree(
            "sensory-forced-choice.csv",
            row => row.Quantity.StartsWith("proportion that really detects", StringComparison.Ordinal),
            rows: 3,
            independentRows: 3,
            row => DifferenceTest.ShareDetecting(DifferenceMethod.OneOfThree, row.Input("correct")));
    }

    // 3 of 3 in a triangle: (1/3)³ = 1/27. 3 of 3 in a paired preference: 2·(1/2)³ = 1/4.
    [Theory]
    [InlineData(DifferenceMethod.Triangle, 3, 3, 1.0 / 27, TastingVerdict.Significant)]
    [InlineData(DifferenceMethod.Triangle, 3, 2, 7.0 / 27, TastingVerdict.NotSignificant)]
    [InlineData(DifferenceMethod.Triangle, 2, 2, 1.0 / 9, TastingVerdict.NotEnoughTasters)]
    [InlineData(DifferenceMethod.PairedTwoSided, 3, 3, 0.25, TastingVerdict.NotEnoughTasters)]
    [InlineData(DifferenceMethod.PairedTwoSided, 3, 0, 0.25, TastingVerdict.NotEnoughTasters)]
    [InlineData(DifferenceMethod.PairedTwoSided, 6, 0, 1.0 / 32, TastingVerdict.Significant)]
    [InlineData(DifferenceMethod.PairedDirectional, 5, 5, 1.0 / 32, TastingVerdict.Significant)]
    [InlineData(DifferenceMethod.DuoTrio, 4, 4, 1.0 / 16, TastingVerdict.NotEnoughTasters)]
    public void HomePanel_IsJudgedByExactFractions(DifferenceMethod method, int tasters, int right, double probability, TastingVerdict verdict)
    {
        var result = DifferenceTest.Judge(method, tasters, right);
        Assert.Equal(probability, result.ProbabilityByChance, 1e-12);
        Assert.Equal(verdict, result.Verdict);
        Assert.Equal(verdict is TastingVerdict.NotEnoughTasters, result.SmallestSignificant is null);
    }

    [Theory]
    [InlineData(DifferenceMethod.Triangle, 3)]
    [InlineData(DifferenceMethod.OneOfThree, 3)]
    [InlineData(DifferenceMethod.DuoTrio, 5)]
    [InlineData(DifferenceMethod.PairedDirectional, 5)]
    [InlineData(DifferenceMethod.PairedTwoSided, 6)]
    public void FewestTasters_IsWhereAllRightReachesTheLevel(DifferenceMethod method, int fewest)
    {
        Assert.Equal(fewest, DifferenceTest.FewestTasters(method));
        Assert.Equal(fewest, DifferenceTest.SmallestSignificant(method, fewest));
        Assert.Equal(0, DifferenceTest.Power(method, fewest - 1, 0.9));
    }

    // The binomial theorem in whole numbers: Σ C(n, k) 2^(n-k) over k >= x, out of 3^n.
    [Fact]
    public void Tail_AgreesWithWholeNumbersUpToSixtyTasters()
    {
        for (var n = 1; n <= 60; n++)
        {
            var sum = System.Numerics.BigInteger.Zero;
            var choose = System.Numerics.BigInteger.One;
            for (var k = n; k >= 0; k--)
            {
                sum += choose * System.Numerics.BigInteger.Pow(2, n - k);
                var exact = (double)(sum * System.Numerics.BigInteger.Pow(10, 30) / System.Numerics.BigInteger.Pow(3, n)) / 1e30;
                Assert.Equal(exact, BinomialTail.AtLeast(k, n, 1.0 / 3), 1e-12);
                choose = choose * k / (n - k + 1);
            }
        }
    }

    [Fact]
    public void WhatCannotBe_IsRefusedByName()
    {
        Assert.Contains("right answers", Assert.Throws<ArgumentOutOfRangeException>(() => DifferenceTest.Judge(DifferenceMethod.Triangle, 3, 4)).Message, StringComparison.Ordinal);
        Assert.Contains("tasters", Assert.Throws<ArgumentOutOfRangeException>(() => DifferenceTest.Judge(DifferenceMethod.Triangle, 0, 0)).Message, StringComparison.Ordinal);
        Assert.Contains("level", Assert.Throws<ArgumentOutOfRangeException>(() => DifferenceTest.Judge(DifferenceMethod.Triangle, 3, 3, 0.7)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void EverybodyDetecting_GivesPowerOne() =>
        Assert.Equal(1, DifferenceTest.Power(DifferenceMethod.Triangle, 3, 1));

    private static double Smallest(DifferenceMethod method, ReferenceRow row) =>
        DifferenceTest.SmallestSignificant(method, int.Parse(row.Inputs["n"], CultureInfo.InvariantCulture), row.Input("alpha")) ?? double.NaN;
}
