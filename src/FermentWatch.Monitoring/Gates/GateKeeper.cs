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
        [
            Rack(facts), Stabilize(facts), Sweeten(facts), .. Enum.GetValues<BottlePath>().Select(path => Bottle(facts, path)),
            .. SentinelConditions.Of(facts) is { } sentinel ? new[] { sentinel } : [],
        ]);
    }

    private static Gate Rack(GateFacts facts) => new(GateKind.Rack, null, ValueList.Of<GateCondition>(
        RackConditions.Slow(facts),
        RackConditions.LeesTime(facts),
        Malolactic(facts, mustBeOver: false),
        Waited(facts, "fined", facts.Settings.Waits.Fining, JournalKind.Fined),
        VolumeKnown(facts),
        RackConditions.Vessel(facts)))
    {
        Beside = ValueList.Of<Reason>([.. RackConditions.TopUp(facts) is { } plan ? new[] { plan } : [], Reason.Of("gate-rack-after")]),
    };

    private static Gate Stabilize(GateFacts facts) => new(GateKind.Stabilize, null, ValueList.Of<GateCondition>(
        FinalGravity.Of(facts), NotStuck(facts), Malolactic(facts, mustBeOver: true), Clear(facts), Racked(facts), PhKnown(facts), FreeSulfite(facts)));

    private static Gate Sweeten(GateFacts facts) => new(GateKind.Sweeten, null, ValueList.Of<GateCondition>(
    [
        SweetenConditions.NoRefermenting(facts),
        .. SweetenConditions.IsByStabilizing(facts) ? new[] { FreeSulfite(facts, facts.Last(JournalKind.Stabilized)?.At) } : [],
        Waited(facts, "tannin", facts.Settings.Waits.Tannin, JournalKind.TanninAdded),
        SweetenConditions.Tried(facts),
        SweetenConditions.VolumeToday(facts),
    ]));

    private static Gate Bottle(GateFacts facts, BottlePath path)
    {
        GateCondition[] own = path switch
        {
            BottlePath.DryAndFlat => [HandSeries.ThreeFlat(facts), SugarTest(facts), Malolactic(facts, mustBeOver: true)],
            BottlePath.SulfiteAndSorbate =>
            [
                Done(facts, "stabilized", "gate-not-stabilized", facts.Settings.AfterStabilizing, JournalKind.Stabilized),
                SweetenConditions.AsPredicted(facts),
                SweetenConditions.Watched(facts),
                HandSeries.Flat(facts),
            ],
            BottlePath.PasteurizedOrFiltered => [OtherPaths.HeatedOrFiltered(facts)],
            BottlePath.KeptCold => [OtherPaths.Cold(facts), OtherPaths.Rated(facts, path)],
            _ => [HandSeries.Flat(facts), OtherPaths.Rated(facts, path), OtherPaths.Primed(facts)],
        };
        var (gas, notYet) = BottleGas.Of(facts);
        return new(GateKind.Bottle, path, ValueList.Of<GateCondition>(
        [
            .. own,
            .. path is BottlePath.BottleConditioned ? [] : new[] { FreeSulfite(facts), BottleConditions.Degassed(facts) },
            BottleConditions.TotalSulfite(facts),
            Waited(facts, "tannin", facts.Settings.Waits.Tannin, JournalKind.TanninAdded),
            Waited(facts, "fined", facts.Settings.Waits.Fining, JournalKind.Fined),
            Clear(facts),
        ]))
        {
            IsChosen = OtherPaths.Chosen(facts) == path,
            Beside = ValueList.Of(gas?.Because ?? notYet!),
        };
    }
}
