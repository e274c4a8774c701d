using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>A step in the life of a batch that is taken only when certain things are so.</summary>
public enum GateKind
{
    /// <summary>Off the lees.</summary>
    Rack = 1,

    /// <summary>Sulfite and sorbate.</summary>
    Stabilize = 2,

    /// <summary>Sweetening.</summary>
    Sweeten = 3,

    /// <summary>Into bottles.</summary>
    Bottle = 4,

    /// <summary>Watching one bottle of the lot after bottling.</summary>
    Sentinel = 5,
}

/// <summary>By which way a bottle is kept from fermenting again. The words are those of the journal's field 'path'.</summary>
public enum BottlePath
{
    /// <summary>Nothing is left to ferment.</summary>
    DryAndFlat = 1,

    /// <summary>Sulfite and sorbate, watched after sweetening.</summary>
    SulfiteAndSorbate = 2,

    /// <summary>Pasteurized or sterile-filtered.</summary>
    PasteurizedOrFiltered = 3,

    /// <summary>Kept cold in a keg.</summary>
    KeptCold = 4,

    /// <summary>Meant to ferment in bottles rated for the pressure.</summary>
    BottleConditioned = 5,
}

/// <summary>How a condition stands. Unknown is a full answer.</summary>
public enum ConditionState
{
    /// <summary>It can't be told, for the reason given.</summary>
    Unknown = 0,

    /// <summary>It is so.</summary>
    Met = 1,

    /// <summary>It is not so, for the reason given.</summary>
    NotMet = 2,
}

/// <summary>One thing that a gate asks for.</summary>
/// <param name="Code">Its name; the words stand in the texts under <c>gate-</c> and this.</param>
/// <param name="State">How it stands.</param>
/// <param name="Because">The evidence, or what is missing.</param>
/// <param name="At">When the newest evidence was written or read; null for none.</param>
public sealed record GateCondition(string Code, ConditionState State, Reason Because, EventTime? At = null);

/// <summary>A gate with its conditions. It advises: nothing is ever locked.</summary>
/// <param name="Kind">Which step.</param>
/// <param name="Path">For bottling, which way; else null.</param>
/// <param name="Conditions">In the order in which they are shown.</param>
public sealed record Gate(GateKind Kind, BottlePath? Path, ValueList<GateCondition> Conditions)
{
    /// <summary>Whether the maker chose this way of bottling.</summary>
    public bool IsChosen { get; init; }

    /// <summary>What is computed beside the conditions: a plan, a pressure.</summary>
    public ValueList<Reason> Beside { get; init; } = ValueList.Of<Reason>();

    /// <summary>How many are met.</summary>
    public int Met => Conditions.Count(condition => condition.State is ConditionState.Met);

    /// <summary>Whether every condition is met.</summary>
    public bool IsOpen => Met == Conditions.Count;
}
