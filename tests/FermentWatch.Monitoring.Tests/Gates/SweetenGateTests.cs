using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>Before and after sweetening. Times and limits: common practice, no source.</summary>
public sealed class SweetenGateTests
{
    private readonly GateStory _story = new();

    [Fact]
    public void Stabilized_WaitsItsDayAndNothingElseWillDo()
    {
        Assert.Equal((ConditionState.NotMet, "gate-not-stabilized-nor-else"), Of(20, "no-referment"));
        _story.Write(20, JournalKind.Stabilized, ("sulfite", 1.2), ("sorbate", 4));
        Assert.Equal(ConditionState.NotMet, Of(20.9, "no-referment").State);
        Assert.Equal(ConditionState.Met, Of(21.1, "no-referment").State);
    }

    [Fact]
    public void FreeSulfite_IsMeasuredAnewAfterStabilizing()
    {
        _story.Write(19, JournalKind.MeasuredByHand, ("ph", 3.3), ("free-sulfite", 60));
        _story.Write(20, JournalKind.Stabilized, ("sorbate", 4));
        Assert.Equal(ConditionState.Unknown, Of(21.5, "free-sulfite").State);
        _story.Write(21.6, JournalKind.MeasuredByHand, ("free-sulfite", 60));
        Assert.Equal(ConditionState.Met, Of(21.7, "free-sulfite").State);
    }

    [Fact]
    public void ColdKegChosen_CountsByItsTemperatureAndAsksForNoSulfite()
    {
        _story.Write(20, JournalKind.PathChosen, ("path", "kept-cold"), ("rated-pressure", 9));
        Assert.Equal((ConditionState.Unknown, "gate-cold-unknown"), Of(21, "no-referment"));
        _story.Warmth.AddRange([(14, 3), (18, 3.2), (21, 3)]);
        Assert.Equal((ConditionState.Met, "gate-cold"), Of(21, "no-referment"));
        Assert.DoesNotContain(_story.At(21).Single(gate => gate.Kind is GateKind.Sweeten).Conditions, one => one.Code == "free-sulfite");
        _story.Warmth.Add((21.5, 6));
        Assert.Equal(ConditionState.NotMet, Of(22, "no-referment").State);
    }

    [Fact]
    public void PasteurizingChosen_IsNoEvidenceBeforeItIsDone()
    {
        _story.Write(20, JournalKind.PathChosen, ("path", "pasteurized-or-filtered"));
        Assert.Equal((ConditionState.Unknown, "gate-heat-after-sweetening"), Of(21, "no-referment"));
        _story.Write(21, JournalKind.Pasteurized, ("heated-to", 65), ("held-minutes", 15));
        Assert.Equal((ConditionState.Met, "gate-heated"), Of(21.5, "no-referment"));
    }

    [Fact]
    public void TrialDeclined_CountsUntilItIsStabilizedAnew()
    {
        Assert.Equal(ConditionState.Unknown, Of(20, "tried").State);
        _story.Write(20, JournalKind.TrialDeclined);
        Assert.Equal((ConditionState.Met, "gate-trial-declined"), Of(21, "tried"));
        _story.Write(22, JournalKind.Stabilized, ("sorbate", 4));
        Assert.Equal(ConditionState.Unknown, Of(23, "tried").State);
    }

    [Fact]
    public void Volume_IsMeasuredToday()
    {
        Assert.Equal((ConditionState.NotMet, "gate-volume-unknown"), Of(20, "volume-today"));
        _story.Write(20, JournalKind.Racked, ("volume", 18));
        Assert.Equal(ConditionState.Met, Of(20.9, "volume-today").State);
        _story.Write(21, JournalKind.Tasted, ("sample", 500));
        var old = _story.Of(23, GateKind.Sweeten, "volume-today");
        Assert.Equal((ConditionState.NotMet, "gate-volume-old"), (old.State, old.Because.Code));
        Assert.Equal(17.5, old.Because.Values.OfType<ReasonValue.Amount>().Single().Number, 1e-9);
    }

    // By hand: 10 L of 0.996 weigh 9.942 kg; with 0.5 kg of sugar 10.442 kg in 10.31 L: 1.0146.
    [Theory]
    [InlineData(null, ConditionState.Unknown, "gate-prediction-waits")]
    [InlineData(1.0146, ConditionState.Met, "gate-prediction-met")]
    [InlineData(1.0120, ConditionState.Met, "gate-prediction-met")]
    [InlineData(1.0110, ConditionState.NotMet, "gate-prediction-missed")]
    [InlineData(1.0190, ConditionState.NotMet, "gate-prediction-missed")]
    public void GravityAfterSweetening_IsHeldAgainstThePrediction(double? read, ConditionState state, string code)
    {
        _story.Volume = Volume.FromLiters(10);
        _story.Read(28, 0.996);
        _story.Write(30, JournalKind.Sweetened, ("kilograms", 0.5), ("sweetener", "sugar"));
        if (read is { } gravity)
        {
            _story.Read(31, gravity);
        }

        var condition = _story.Bottle(32, BottlePath.SulfiteAndSorbate, "as-predicted");
        Assert.Equal((state, code), (condition.State, condition.Because.Code));
        Assert.Equal(1.0146, condition.Because.Values.OfType<ReasonValue.Gravity>().ElementAt(read is null ? 0 : 1).Ratio, 1e-4);
    }

    [Theory]
    [InlineData(null, ConditionState.Met, "gate-watched-warmth-unknown")]
    [InlineData(19.0, ConditionState.Met, "gate-watched")]
    [InlineData(14.0, ConditionState.NotMet, "gate-watched-cold")]
    public void Watch_CountsInTheWarmth(double? celsius, ConditionState state, string code)
    {
        _story.Write(30, JournalKind.Sweetened, ("kilograms", 0.5), ("sweetener", "sugar"));
        _story.Warmth.AddRange(celsius is { } known ? [(31, known), (38, known), (44, known)] : []);
        var condition = _story.Bottle(45, BottlePath.SulfiteAndSorbate, "sweetened-watch");
        Assert.Equal((state, code), (condition.State, condition.Because.Code));
    }

    private (ConditionState State, string Code) Of(double day, string code) => _story.Of(day, GateKind.Sweeten, code) is var found ? (found.State, found.Because.Code) : default;
}
