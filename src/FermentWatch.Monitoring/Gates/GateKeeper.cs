using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using static FermentWatch.Monitoring.Gates.GateConditions;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Says of each gate what is met, what is not, and what is unknown and why. A pure function; it locks nothing.</summary>
/// <remarks>Conditions and durations are common practice, no source. Everything can be shown by three to six hand readings alone.</remarks>
public static class GateKeeper
{
    /// <summary>The gates in the order of a batch's life; bottling once for each way.</summary>
    public static ValueList<Gate> Of(GateFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return ValueList.Of<Gate>(
            [Rack(facts), Stabilize(facts), Sweeten(facts), .. Enum.GetValues<BottlePath>().Select(path => Bottle(facts, path))]);
    }

    private static Gate Rack(GateFacts facts) => new(GateKind.Rack, null, ValueList.Of<GateCondition>(
        Slow(facts), Malolactic(facts, mustBeOver: false), Waited(facts, "fined", facts.Settings.Waits.Fining, JournalKind.Fined), VolumeKnown(facts)));

    private static Gate Stabilize(GateFacts facts) => new(GateKind.Stabilize, null, ValueList.Of<GateCondition>(
        FinalGravity.Of(facts), NotStuck(facts), Malolactic(facts, mustBeOver: true), Clear(facts), Racked(facts), PhKnown(facts), FreeSulfite(facts)));

    private static Gate Sweeten(GateFacts facts) => new(GateKind.Sweeten, null, ValueList.Of<GateCondition>(
        Done(facts, "stabilized", "gate-not-stabilized", facts.Settings.AfterStabilizing, JournalKind.Stabilized),
        FreeSulfite(facts),
        Waited(facts, "tannin", facts.Settings.Waits.Tannin, JournalKind.TanninAdded),
        BottleConditions.Tried(facts),
        VolumeKnown(facts)));

    private static Gate Bottle(GateFacts facts, BottlePath path)
    {
        var own = path switch
        {
            BottlePath.DryAndFlat => new[] { HandSeries.ThreeFlat(facts), SugarTest(facts), Malolactic(facts, mustBeOver: true) },
            BottlePath.SulfiteAndSorbate =>
            [
                Done(facts, "stabilized", "gate-not-stabilized", facts.Settings.AfterStabilizing, JournalKind.Stabilized),
                Waited(facts, "sweetened-watch", facts.Settings.Waits.Sweetened, JournalKind.Sweetened),
                HandSeries.Flat(facts),
            ],
            _ => [Written(facts, path)],
        };
        return new(GateKind.Bottle, path, ValueList.Of<GateCondition>(
        [
            .. own,
            .. path is BottlePath.BottleConditioned ? [] : new[] { FreeSulfite(facts), BottleConditions.Degassed(facts) },
            BottleConditions.TotalSulfite(facts),
            Waited(facts, "tannin", facts.Settings.Waits.Tannin, JournalKind.TanninAdded),
            Waited(facts, "fined", facts.Settings.Waits.Fining, JournalKind.Fined),
            Clear(facts),
        ]));
    }
}
