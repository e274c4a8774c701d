using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches;

/// <summary>A batch by its short stable key, as used in addresses and tables.</summary>
/// <param name="Value">1 to 40 characters: lower-case letters, digits and hyphens.</param>
public readonly record struct BatchId(string Value)
{
    /// <inheritdoc/>
    public override string ToString() => Value;
}

/// <summary>What is being fermented. Stored by number: never renumber.</summary>
public enum FermentKind
{
    /// <summary>Wine of grapes or other fruit.</summary>
    Wine = 1,

    /// <summary>Mead of honey, with or without fruit.</summary>
    Mead = 2,

    /// <summary>Cider and perry.</summary>
    Cider = 3,
}

/// <summary>Where a sensor sits: it sets how long its temperature takes to follow the liquid.</summary>
public enum Placement
{
    /// <summary>In the liquid or in a thermowell.</summary>
    InLiquid = 1,

    /// <summary>On the glass, under insulation.</summary>
    InsulatedOnGlass = 2,

    /// <summary>On bare glass.</summary>
    BareGlass = 3,

    /// <summary>In the room.</summary>
    Room = 4,
}

/// <summary>A closed range of temperatures.</summary>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit, above the lower one.</param>
public sealed record TemperatureBand(Temperature Low, Temperature High);

/// <summary>A sensor's time in a batch.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="From">From when its readings belong to the batch.</param>
/// <param name="Until">Until when (exclusive); null while it is still there.</param>
/// <param name="Placement">Where it sits.</param>
public sealed record SensorAttachment(SensorId Sensor, EventTime From, EventTime? Until, Placement Placement)
{
    /// <summary>Whether a reading at <paramref name="at"/> belongs to the batch.</summary>
    public bool Covers(EventTime at) => at >= From && (Until is not { } until || at < until);
}

/// <summary>What the maker told us about one vessel's ferment.</summary>
/// <param name="Id">Stable key.</param>
/// <param name="Name">The maker's name for it, 1 to 80 characters.</param>
/// <param name="Kind">Wine, mead or cider.</param>
/// <param name="Vessel">What the vessel is called, or null.</param>
/// <param name="Volume">Volume at inoculation, or null when not told.</param>
/// <param name="InoculatedAt">When the yeast went in.</param>
/// <param name="OriginalGravity">Gravity before fermentation by hand reading, or null.</param>
/// <param name="TemperatureBand">The yeast's working band, or null when not told.</param>
/// <param name="Tolerance">The yeast's alcohol tolerance as its packet states it (about ±0.5), or null.</param>
/// <param name="Sensors">Sensors over intervals.</param>
public sealed record Batch(
    BatchId Id,
    string Name,
    FermentKind Kind,
    string? Vessel,
    Volume? Volume,
    EventTime InoculatedAt,
    SpecificGravity? OriginalGravity,
    TemperatureBand? TemperatureBand,
    AlcoholByVolume? Tolerance,
    ValueList<SensorAttachment> Sensors)
{
    /// <summary>Where the batch was written down.</summary>
    public BatchOrigin Origin { get; init; } = BatchOrigin.File;

    /// <summary>What it is to become, in the maker's words, at most 200 characters; or null.</summary>
    public string? Goal { get; init; }

    /// <summary>Room above the liquid, or null when not told.</summary>
    public Volume? Headspace { get; init; }

    /// <summary>Name of the yeast, or null.</summary>
    public string? Yeast { get; init; }

    /// <summary>Nitrogen demand of the yeast as its packet states it, or null.</summary>
    public NitrogenDemand? NitrogenDemand { get; init; }

    /// <summary>Which temperature band is watched in which stage.</summary>
    public StageHandling StageHandling { get; init; } = StageHandling.ByStage;

    /// <summary>Bands that the maker set for stages after the ferment; the usual one holds for a stage that is not among them.</summary>
    public ValueList<StageBand> StageBands { get; init; } = ValueList.Of<StageBand>();

    /// <summary>Limits and holds of alerts that the maker set for this batch; the usual ones hold for what is not among them.</summary>
    public ValueList<OwnLimit> Limits { get; init; } = ValueList.Of<OwnLimit>();

    /// <summary>Bands over time where stages changed them; empty where one band holds throughout. Derived from the journal, never stored.</summary>
    public ValueList<BandSpan> Bands { get; init; } = ValueList.Of<BandSpan>();
}

/// <summary>A temperature band that the maker set for a stage.</summary>
/// <param name="Stage">Any stage but fermenting, whose band is the yeast's.</param>
/// <param name="Band">The band.</param>
public sealed record StageBand(BatchStage Stage, TemperatureBand Band);

/// <summary>A stretch with its own temperature band.</summary>
/// <param name="From">Begin, or null for as long ago as there are readings.</param>
/// <param name="Until">End, exclusive; null while it lasts.</param>
/// <param name="Band">The band, or null where none is watched.</param>
public sealed record BandSpan(EventTime? From, EventTime? Until, TemperatureBand? Band);

/// <summary>Where a batch was written down. Stored by number: never renumber.</summary>
public enum BatchOrigin
{
    /// <summary>In the configuration file; it is changed there.</summary>
    File = 1,

    /// <summary>On the page.</summary>
    Page = 2,
}

/// <summary>How much nitrogen a yeast asks for. Stored by number: never renumber.</summary>
public enum NitrogenDemand
{
    /// <summary>Little.</summary>
    Low = 1,

    /// <summary>The usual amount.</summary>
    Medium = 2,

    /// <summary>Much.</summary>
    High = 3,
}

/// <summary>Which temperature band is watched. Stored by number: never renumber.</summary>
public enum StageHandling
{
    /// <summary>The band of the stage that the journal tells.</summary>
    ByStage = 1,

    /// <summary>The yeast's band at all times.</summary>
    YeastBandOnly = 2,
}
