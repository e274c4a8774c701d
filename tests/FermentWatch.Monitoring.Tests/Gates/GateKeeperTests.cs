using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>Gates from journals of hand readings alone, through the whole view. Durations: common practice, no source.</summary>
public sealed class GateKeeperTests
{
    private readonly GateStory _story = new();

    [Fact]
    public void NothingWritten_NothingIsOpenAndEveryConditionSaysWhy()
    {
        var gates = At(3);

        Assert.Equal(8, gates.Count);
        Assert.DoesNotContain(gates, gate => gate.Kind is not GateKind.Rack && gate.IsOpen);
        Assert.All(gates.SelectMany(gate => gate.Conditions), condition => Assert.NotEmpty(condition.Because.Code));
        Assert.Equal(ConditionState.Unknown, Of(gates, GateKind.Stabilize, "final-gravity").State);
    }

    [Fact]
    public void WineReadTwiceAWeekApart_IsFlatByHand()
    {
        Read(0, 1.090);
        Read(20, 0.995);
        Assert.Equal(ConditionState.NotMet, Of(At(21), GateKind.Stabilize, "final-gravity").State);
        Read(27, 0.995);
        Assert.Equal(ConditionState.Met, Of(At(27), GateKind.Stabilize, "final-gravity").State);
        Read(28, 0.990);
        Assert.Equal(ConditionState.NotMet, Of(At(28), GateKind.Stabilize, "final-gravity").State);
    }

    [Fact]
    public void Mead_NeedsTwoWeeksBetweenReadings()
    {
        Read(0, 1.100);
        Read(30, 1.000);
        Read(37, 1.000);
        Assert.Equal(ConditionState.NotMet, Of(At(37, FermentKind.Mead), GateKind.Stabilize, "final-gravity").State);
        Read(44, 1.000);
        Assert.Equal(ConditionState.Met, Of(At(44, FermentKind.Mead), GateKind.Stabilize, "final-gravity").State);
    }

    // 0.8 mg/L molecular at pH 3.40 needs 32 mg/L free: table of the University of California, 1982.
    [Fact]
    public void FreeSulfite_IsHeldAgainstThePhOfToday()
    {
        Write(30, JournalKind.MeasuredByHand, ("ph", 3.4), ("free-sulfite", 31));
        Assert.Equal(ConditionState.NotMet, Of(At(31), GateKind.Sweeten, "free-sulfite").State);
        Write(32, JournalKind.MeasuredByHand, ("ph", 3.4), ("free-sulfite", 33));
        Assert.Equal(ConditionState.Met, Of(At(33), GateKind.Sweeten, "free-sulfite").State);
        // Two weeks later nobody knows any more.
        Assert.Equal(ConditionState.Unknown, Of(At(50), GateKind.Sweeten, "free-sulfite").State);
    }

    [Fact]
    public void DosedWithoutAKit_IsMetByPracticeAndSaysSo()
    {
        Write(30, JournalKind.Stabilized, ("sulfite", 1.2), ("sorbate", 4));
        var condition = Of(At(31), GateKind.Sweeten, "free-sulfite");
        Assert.Equal((ConditionState.Met, "gate-sulfite-by-practice"), (condition.State, condition.Because.Code));
    }

    [Fact]
    public void ForcedTestBelowTheLevel_SaysStuckAndAtItSaysDone()
    {
        Read(0, 1.090);
        Read(20, 1.010);
        Write(27, JournalKind.ForcedTest, 0.994);
        Assert.Equal(ConditionState.NotMet, Of(At(28), GateKind.Stabilize, "not-stuck").State);
        Read(40, 0.995);
        Assert.Equal(ConditionState.Met, Of(At(41), GateKind.Stabilize, "not-stuck").State);
    }

    [Fact]
    public void StabilizedAndSweetened_WaitsForTheWatch()
    {
        Write(30, JournalKind.Stabilized, ("sulfite", 1.2), ("sorbate", 4));
        Write(32, JournalKind.Sweetened, ("kilograms", 0.4));
        Assert.Equal(ConditionState.NotMet, Bottle(At(40), BottlePath.SulfiteAndSorbate, "sweetened-watch").State);
        Assert.Equal(ConditionState.Met, Bottle(At(47), BottlePath.SulfiteAndSorbate, "sweetened-watch").State);
    }

    [Fact]
    public void DryAndFlat_OpensOnHandReadingsASugarTestAndClearWine()
    {
        Read(0, 1.085);
        Write(22, JournalKind.MalolacticFinished);
        Read(25, 0.994);
        Read(32, 0.994);
        Read(40, 0.994);
        Write(40, JournalKind.MeasuredByHand, ("ph", 3.3), ("free-sulfite", 40), ("sugar-test", 1));
        Write(40, JournalKind.Clarity, ("clarity", "clear"));
        Write(40, JournalKind.Stirred);
        var gate = At(41).Single(one => one.Path is BottlePath.DryAndFlat);

        Assert.True(gate.IsOpen, string.Join(", ", gate.Conditions.Where(one => one.State is not ConditionState.Met).Select(one => one.Code + " " + one.Because.Code)));
        // The same with sugar in the test is not.
        Write(41, JournalKind.MeasuredByHand, ("sugar-test", 6));
        Assert.False(At(41.5).Single(one => one.Path is BottlePath.DryAndFlat).IsOpen);
    }

    // 1 g of potassium metabisulfite holds 0.576 g of sulfur dioxide (2 * 64.066 / 222.32, atomic weights); EU red 150 mg/L: Regulation (EU) 2019/934.
    [Theory]
    [InlineData(2.0, ConditionState.Met)]
    [InlineData(2.4, ConditionState.Unknown)]
    [InlineData(2.7, ConditionState.NotMet)]
    public void TotalSulfite_IsTheSumInTheVolumeOfItsDayAndWhatYeastForms(double grams, ConditionState expected)
    {
        Write(20, JournalKind.Racked, ("volume", 10));
        Write(20, JournalKind.SulfiteAdded, ("sulfite", grams / 2));
        Write(40, JournalKind.Racked, ("volume", 9.8));
        Write(40, JournalKind.SulfiteAdded, ("sulfite", grams / 2));

        var condition = Bottle(At(41), BottlePath.DryAndFlat, "total-sulfite");
        var figures = condition.Because.Values.OfType<ReasonValue.Figure>().ToList();
        Assert.Equal(expected, condition.State);
        Assert.Equal((grams / 2 * 576.3 / 10) + (grams / 2 * 576.3 / 9.8), figures[0].Value, 0.2);
        Assert.Equal((30.0, 150.0), (figures[1].Value - figures[0].Value, figures[2].Value));
    }

    [Fact]
    public void TotalSulfiteMeasured_CountsInsteadOfAllBefore()
    {
        Write(20, JournalKind.Racked, ("volume", 10));
        Write(20, JournalKind.SulfiteAdded, ("sulfite", 5));
        Write(40, JournalKind.MeasuredByHand, ("total-sulfite", 120));
        Assert.Equal(ConditionState.Met, Bottle(At(41), BottlePath.KeptCold, "total-sulfite").State);
    }

    [Fact]
    public void SulfiteWithoutAVolume_CannotBeSummed()
    {
        Write(20, JournalKind.SulfiteAdded, ("sulfite", 1));
        Assert.Equal((ConditionState.Unknown, "gate-total-no-volume"), Bottle(At(41), BottlePath.DryAndFlat, "total-sulfite") is var found ? (found.State, found.Because.Code) : default);
    }

    [Fact]
    public void Degassed_CountsForTwoWeeks()
    {
        Write(30, JournalKind.Stirred);
        Assert.Equal(ConditionState.Met, Bottle(At(40), BottlePath.SulfiteAndSorbate, "degassed").State);
        Assert.Equal(ConditionState.Unknown, Bottle(At(50), BottlePath.SulfiteAndSorbate, "degassed").State);
    }

    [Fact]
    public void TastedAfterStabilizing_IsATrial()
    {
        Write(29, JournalKind.Tasted);
        Write(30, JournalKind.Stabilized, ("sulfite", 1.2), ("sorbate", 4));
        Assert.Equal(ConditionState.Unknown, Of(At(31), GateKind.Sweeten, "tried").State);
        Write(32, JournalKind.Tasted);
        Assert.Equal(ConditionState.Met, Of(At(33), GateKind.Sweeten, "tried").State);
    }

    [Fact]
    public void MalolacticStarted_HoldsStabilizingUntilItIsOver()
    {
        Write(20, JournalKind.MalolacticStarted);
        Assert.Equal(ConditionState.NotMet, Of(At(25), GateKind.Stabilize, "malolactic").State);
        Write(40, JournalKind.MalolacticFinished);
        Assert.Equal(ConditionState.Met, Of(At(41), GateKind.Stabilize, "malolactic").State);
    }

    private static GateCondition Of(ValueList<Gate> gates, GateKind kind, string code) =>
        gates.First(gate => gate.Kind == kind).Conditions.Single(condition => condition.Code == code);

    private static GateCondition Bottle(ValueList<Gate> gates, BottlePath path, string code) =>
        gates.Single(gate => gate.Path == path).Conditions.Single(condition => condition.Code == code);

    private ValueList<Gate> At(double day, FermentKind kind = FermentKind.Wine)
    {
        _story.Kind = kind;
        return _story.At(day);
    }

    private void Read(double day, double gravity) => _story.Read(day, gravity);

    private void Write(double day, JournalKind kind, double gravity) => _story.Write(day, kind, gravity);

    private void Write(double day, JournalKind kind, params (string Field, object Value)[] values) => _story.Write(day, kind, values);
}
