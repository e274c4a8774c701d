using System.Globalization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class ForcedChoiceTests
{
    private const string Table = "sensory-forced-choice.csv";

    // Six of them are a public university exercise.
    [Fact]
    public void PersonalThresholds_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("individual best-estimate", StringComparison.Ordinal),
        rows: 15,
        independentRows: 15,
        row => Threshold(row).Concentration);

    [Fact]
    public void GroupThresholds_AgreeWithThePersonalOnes() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("group threshold", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row => Group(row).GeometricMean);

    [Fact]
    public void Spreads_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("standard deviation", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row => Group(row).LogStandardDeviation ?? double.NaN);

    [Fact]
    public void ChanceOfRuns_Agrees() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("chance that an assessor who perceives nothing is right", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row => ForcedChoice.ChanceOfRunByGuessing((int)row.Input("k")));

    // Counted over every one of the 3^steps ways to guess: how often does someone who perceives nothing get a threshold that is not above the series?
    [Fact]
    public void LuckyTop_HappensOneTimeInThree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("chance that an assessor who perceives nothing still", StringComparison.Ordinal),
        rows: 3,
        independentRows: 0,
        row => LuckyShare((int)row.Input("steps"), threshold => threshold.Place is not ThresholdPlace.AboveSeries));

    [Fact]
    public void TwoHitsAtTheTop_AreLuckOneTimeInNine() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("the same if the two highest", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => LuckyShare((int)row.Input("steps"), threshold => threshold.HitsAtTop >= 2));

    [Fact]
    public void OneHitAtTheTop_IsMarkedAsPossibleLuck()
    {
        var one = ForcedChoice.BestEstimate([1, 2, 4], [true, false, true]);
        Assert.Equal(1.0 / 3, one.ProbabilityOfLuckyTop, 1e-12);
        Assert.True(one.MayBeLuck);
        Assert.True(ForcedChoice.BestEstimate([1, 2, 4], [false, true, true]).MayBeLuck);
        Assert.False(ForcedChoice.BestEstimate([1, 2, 4], [true, true, true]).MayBeLuck);
        Assert.False(ForcedChoice.BestEstimate([1, 2, 4], [true, true, false]).MayBeLuck);
    }

    [Fact]
    public void ThreeOrFourPeople_AreNoGroup()
    {
        Assert.False(ForcedChoice.Group([1, 2, 4, 8]).IsGroupThreshold);
        Assert.True(ForcedChoice.Group([1, 2, 4, 8, 16]).IsGroupThreshold);
        var alone = ForcedChoice.Group([3]);
        Assert.Equal(3, alone.GeometricMean, 1e-12);
        Assert.Null(alone.LogStandardDeviation);
        Assert.Equal((1, 8), (ForcedChoice.Group([1, 2, 4, 8]).Lowest, ForcedChoice.Group([1, 2, 4, 8]).Highest));
    }

    [Fact]
    public void Series_IsPouredBlindAndReadBack()
    {
        var series = ForcedChoiceSeries.Plan(0.5, 2, 6, "g/L", 11);
        Assert.Equal([0.5, 1, 2, 4, 8, 16], series.Steps.Select(step => step.Concentration));
        Assert.Equal(18, series.Steps.SelectMany(step => step.Codes).Distinct().Count());
        Assert.All(Enumerable.Range(0, 3), place => Assert.Equal(2, series.Steps.Count(step => step.Codes.IndexOf(step.SpikedCode) == place)));

        var named = series.Steps.Select((step, index) => index < 2 ? step.Codes.First(code => code != step.SpikedCode) : step.SpikedCode).ToList();
        Assert.Equal(Math.Sqrt(2), series.Judge(named).Concentration, 1e-12);
        Assert.Contains("is not a glass of this step", Assert.Throws<ArgumentException>(() => series.Judge([.. Enumerable.Repeat("abc", 6)])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => series.Judge(named[1..]));
    }

    [Fact]
    public void WhatIsNoSeries_IsRefused()
    {
        Assert.Throws<ArgumentException>(() => ForcedChoice.BestEstimate([1], [true]));
        Assert.Throws<ArgumentException>(() => ForcedChoice.BestEstimate([2, 1], [true, true]));
        Assert.Throws<ArgumentException>(() => ForcedChoice.BestEstimate([0, 1], [true, true]));
        Assert.Throws<ArgumentException>(() => ForcedChoice.BestEstimate([1, 2], [true]));
        Assert.Throws<ArgumentException>(() => ForcedChoice.Group([]));
    }

    private static double LuckyShare(int steps, Func<PersonalThreshold, bool> counts)
    {
        double[] concentrations = [.. Enumerable.Range(0, steps).Select(step => Math.Pow(2, step))];
        var ways = (int)Math.Pow(3, steps);
        var lucky = Enumerable.Range(0, ways).Count(way => counts(ForcedChoice.BestEstimate(concentrations, [.. Enumerable.Range(0, steps).Select(step => way / (int)Math.Pow(3, step) % 3 == 0)])));
        return (double)lucky / ways;
    }

    private static PersonalThreshold Threshold(ReferenceRow row) => ForcedChoice.BestEstimate(
        [.. row.Inputs["concentrations"].Split(' ').Select(text => double.Parse(text, CultureInfo.InvariantCulture))],
        [.. row.Inputs["answers_1_is_correct"].Split(' ').Select(text => text == "1")]);

    private static GroupThreshold Group(ReferenceRow group) => ForcedChoice.Group(
    [
        .. ReferenceTable.Read(Table)
            .Where(row => row.Quantity.StartsWith("individual best-estimate", StringComparison.Ordinal) && row.Inputs["case"] == group.Inputs["case"])
            .Select(row => Threshold(row).Concentration),
    ]);
}
