using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class FreeGlassTests
{
    private static readonly StockRecipe Stock =
        new("sucrose", StockLiquid.Wine, RoundedAmount.Of(50, 0.01), "fine", RoundedAmount.Of(50, 0.01), "fine", 0.5, 0.5, 1.25);

    // By hand: 100 mL, 10 g stock = 5 g sugar and 8 mL: 5/0.108. A sip of 54 mL takes half of both. 10 g more: 2.5 + 5 g in 62 mL.
    [Fact]
    public void Ledger_KeepsWhatIsInTheGlass()
    {
        var glass = new FreeGlass(100, [])
            .With(new(FreeGlassAct.Addition, 0, 10), [Stock])
            .With(new(FreeGlassAct.Sip, 0, 54), [Stock])
            .With(new(FreeGlassAct.Addition, 0, 10), [Stock])
            .With(new(FreeGlassAct.Dilution, 0, 62), [Stock]);
        var states = glass.States([Stock]);
        Assert.Equal([100.0, 108, 54, 62, 124], states.Select(state => Math.Round(state.Milliliters, 9)));
        Assert.Equal([0.0, 5 / 0.108, 5 / 0.108, 7.5 / 0.062, 7.5 / 0.124], states.Select(state => state.GramsPerLiter[0]), (a, b) => Math.Abs(a - b) < 1e-9);
    }

    [Fact]
    public void SipThatEmptiesTheGlass_IsRefused()
    {
        var glass = new FreeGlass(50, []);
        Assert.Throws<ArgumentOutOfRangeException>(() => glass.With(new(FreeGlassAct.Sip, 0, 50), [Stock]));
        Assert.Throws<ArgumentOutOfRangeException>(() => glass.With(new(FreeGlassAct.Addition, 1, 5), [Stock]));
        Assert.Throws<ArgumentOutOfRangeException>(() => glass.With(new(FreeGlassAct.Addition, 0, 0), [Stock]));
    }

    [Fact]
    public void StockForAStep_RaisesTheGlassByThatStep()
    {
        // Against the ledger itself: it counts grams and milliliters, the formula solves for the grams.
        var glass = new FreeGlass(120, []).With(new(FreeGlassAct.Addition, 0, 2.5), [Stock]).With(new(FreeGlassAct.Sip, 0, 15), [Stock]);
        foreach (var step in (double[])[0.5, 3, 12])
        {
            var before = glass.States([Stock])[^1];
            var grams = FreeGlass.StockForStep(before, Stock, 0, step);
            var after = glass.With(new(FreeGlassAct.Addition, 0, grams), [Stock]).States([Stock])[^1];
            Assert.Equal(before.GramsPerLiter[0] + step, after.GramsPerLiter[0], 1e-9);
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => FreeGlass.StockForStep(glass.States([Stock])[^1], Stock, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => FreeGlass.StockForStep(new FreeGlassState(100, [0.96 * Stock.ActiveGramsPerLiter]), Stock, 0, 1));
    }

    [Fact]
    public void FreeTrial_BeginsWithAPlainGlassAndChoosesWhatItHolds()
    {
        var trial = BenchScenario.Planned(BenchTrialTests.Request(TrialPlanKind.FreeGlass));
        Assert.Equal(GlassRole.Control, Assert.Single(trial.Current.Glasses).Role);
        Assert.Null(trial.Current.Serving);
        trial = trial.WithEntry(new(FreeGlassAct.Addition, 0, 3)).ChooseFreeGlass();
        var expected = 1000 * 3 * trial.Stocks[0].ActiveMassFraction / (100 + (3 / trial.Stocks[0].GramsPerMilliliter));
        Assert.Equal(expected, trial.Chosen!.GramsPerLiter[0], 1e-9);
        Assert.Null(trial.Chosen.Code);
        Assert.Equal(expected, Assert.Single(trial.ChosenDoses).GramsPerLiter, 1e-9);
        Assert.Equal(expected, trial.PredictFree()!.SugarAddedGramsPerLiter, 1e-9);
        Assert.Throws<ArgumentException>(() => TrialPlanning.AddFlight(trial, [10]));
    }
}
