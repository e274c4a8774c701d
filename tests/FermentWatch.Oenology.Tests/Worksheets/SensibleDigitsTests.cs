using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>Digits that a result shows: those of the instrument, or those that mean something.</summary>
public sealed class SensibleDigitsTests
{
    private static readonly NumberOutput Output = new("mass", "Mass", QuantityKind.Mass, 3);

    [Theory]
    [InlineData(2.8284, 2, 1)]
    [InlineData(571.43, 2, 0)]
    [InlineData(0.00282, 2, 4)]
    [InlineData(1, 2, 1)]
    [InlineData(9.99, 3, 2)]
    [InlineData(0, 2, 3)]
    [InlineData(1e-15, 2, 9)]
    public void Significant_CountsFromTheFirstDigitThatIsNotZero(double value, int significant, int digits) =>
        Assert.Equal(digits, Output.Significant(value, significant).Digits);

    [Theory]
    [InlineData(5, 0)]
    [InlineData(1, 0)]
    [InlineData(0.5, 1)]
    [InlineData(0.1, 1)]
    [InlineData(0.05, 2)]
    [InlineData(0.02, 2)]
    [InlineData(0.001, 3)]
    public void OfStep_ShowsWhatTheScaleShows(double step, int digits) => Assert.Equal(digits, Output.OfStep(step).Digits);

    [Fact]
    public void ScaleUp_ShowsNoDigitThatTheScaleCannotShow()
    {
        const string Given = "additive=tartaric-acid dose=1.5 volume=20 scale-step=1 scale-capacity=5000";
        Assert.All<string>(["product", "first-portion", "rest"], key => Assert.Equal(0, SheetRun.Number("trial-scale-up", Given, key).Number.Digits));
    }

    [Fact]
    public void ThresholdOfOnePerson_HasTwoDigits() =>
        Assert.Equal(1, SheetRun.Number("taste-threshold", "concentrations=1;2;4;8 hits=0;0;1;1", "threshold").Number.Digits);

    // What nobody measured is not shown as none.
    [Fact]
    public void SulfiteThatWasNotMeasured_IsNotShown()
    {
        const string Given = "volume=20 present-gravity=0.996 alcohol=12 sugar=2 aim=sugar target-sugar=25 sweetener=honey";
        Assert.DoesNotContain(SheetRun.Answer("sweeten", Given).Results, result => result.Output.Key.Contains("sulfite", StringComparison.Ordinal));
        Assert.Equal(29.4, SheetRun.Number("sweeten", Given + " free-sulfite=30", "free-sulfite-after").Value, 0.1);
        Assert.Equal(58.8, SheetRun.Number("sweeten", Given + " total-sulfite=60", "total-sulfite-after").Value, 0.2);
    }

    [Fact]
    public void DrinkThatWasNotNamed_IsSaid()
    {
        const string Sweet = "volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=12 sweetener=sucrose titratable-acidity=6 ph=3.3";
        Assert.Contains("drink-assumed", SheetRun.Notices("sweeten", Sweet));
        Assert.DoesNotContain("drink-assumed", SheetRun.Notices("sweeten", Sweet + " drink=mead"));
        const string Blend = "volumes=10;10 gravities=0.9922;0.9922 alcohols=12;12 acidities=6;6 phs=3.3;3.3";
        Assert.Contains("drink-assumed", SheetRun.Notices("blend-wines", Blend));
        Assert.DoesNotContain("drink-assumed", SheetRun.Notices("blend-wines", Blend + " drink=grape-wine"));
    }

    [Fact]
    public void FeedsOfMoreThanTheMust_AreRefusedWithTheirUnit() => Assert.Equal(
        "fed-masses is 500;500; it must be at most a kilogram in all for each liter at the start, in kg.",
        SheetRun.Fault("step-feeding", "volume=20 original-gravity=1.080 sweetener=honey fed-masses=500;500").Sentence);
}
