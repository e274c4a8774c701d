using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Gravity in one bin of time, from the readings that were kept.</summary>
/// <param name="At">Weighted middle of the bin's readings.</param>
/// <param name="Gravity">Robust mean.</param>
/// <param name="Count">Readings in it.</param>
public readonly record struct GravityPoint(EventTime At, SpecificGravity Gravity, int Count);

/// <summary>A gravity reading that was kept in the store and left out of the curve, with the reason.</summary>
public sealed record SetAsidePoint(EventTime At, SpecificGravity Gravity, Reason Because);

/// <summary>Temperature in one bin of time.</summary>
public readonly record struct TemperaturePoint(EventTime At, Temperature Temperature, Temperature Lowest, Temperature Highest);

/// <summary>A stretch without readings of a quantity.</summary>
public readonly record struct Gap(EventTime From, EventTime Until);

/// <summary>Something that happened: written by the maker, or found in the readings.</summary>
/// <param name="At">When.</param>
/// <param name="Kind">The journal's kind, or null for something found in the readings.</param>
/// <param name="What">The words for it.</param>
public sealed record TimelineEvent(EventTime At, JournalKind? Kind, Reason What)
{
    /// <summary>Whether sugar came in: told by the maker, or found in the readings.</summary>
    internal bool IsSugar => Kind == JournalKind.SugarAdded || What.Code == ReasonCodes.EventSugarFound;
}

/// <summary>The newest accepted value of a quantity.</summary>
public readonly record struct Latest<T>(T Value, EventTime At, ReceivedAt ReceivedAt)
    where T : struct;

/// <summary>How one attached sensor is heard.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Quantity">The series.</param>
/// <param name="Placement">Where it sits.</param>
/// <param name="LastAt">Event time of its newest reading, or null when it never sent one.</param>
/// <param name="LastReceivedAt">When anything of this series last reached us.</param>
/// <param name="MedianInterval">The sensor's own median interval; null with fewer than three readings.</param>
/// <param name="AttachedFrom">Since when it belongs to the batch.</param>
public sealed record SensorStatus(
    SensorId Sensor,
    QuantityKind Quantity,
    Placement Placement,
    EventTime? LastAt,
    ReceivedAt? LastReceivedAt,
    TimeSpan? MedianInterval,
    EventTime AttachedFrom)
{
    /// <summary>Stretches without a reading that are longer than its habit, in time order, the newest eight; late readings close them.</summary>
    public ValueList<Gap> Gaps { get; init; } = ValueList.Of<Gap>();
}

/// <summary>All that the product says about a batch at one moment: a pure function of the facts.</summary>
public sealed record BatchView
{
    /// <summary>Which batch, as the maker described it.</summary>
    public required Batch Batch { get; init; }

    /// <summary>The moment for which this was computed.</summary>
    public required EventTime Now { get; init; }

    /// <summary>The stage that lasts now, as the journal tells; null where no journal was read.</summary>
    public StageSpan? Stage { get; init; }

    /// <summary>Whether the newest gravity was read by hand and no sensor measures it any more.</summary>
    public bool IsGravityByHand { get; init; }

    /// <summary>What the ferment is doing, and why we say so.</summary>
    public required PhaseAssessment Phase { get; init; }

    /// <summary>Where it will end and when; null while there is no gravity reading and no original gravity.</summary>
    public GravityForecast? Forecast { get; init; }

    /// <summary>What phase, forecast and stop stand on, to be used again while it is the same.</summary>
    internal Outlook? Outlook { get; init; }

    /// <summary>Whether it rests, and whether that is its end.</summary>
    public StopAssessment Stop { get; init; } = StopAssessment.Unknown;

    /// <summary>Original gravity used, with its error; null when neither told nor to be seen in the readings.</summary>
    public Computed<SpecificGravity>? OriginalGravity { get; init; }

    /// <summary>Sugar left now, by mass balance from original and present gravity, with its error.</summary>
    public Computed<SugarConcentration>? SugarLeft { get; init; }

    /// <summary>Alcohol now, by mass balance, with its error.</summary>
    public Computed<AlcoholByVolume>? Alcohol { get; init; }

    /// <summary>Newest kept gravity.</summary>
    public Latest<SpecificGravity>? LatestGravity { get; init; }

    /// <summary>Newest temperature.</summary>
    public Latest<Temperature>? LatestTemperature { get; init; }

    /// <summary>Kept gravity in bins, in time order, at most 1,000.</summary>
    public required ValueList<GravityPoint> Gravity { get; init; }

    /// <summary>Gravity readings left out of the curve, in time order, at most 500 (the newest).</summary>
    public required ValueList<SetAsidePoint> SetAside { get; init; }

    /// <summary>Temperature in bins, in time order, at most 1,000.</summary>
    public required ValueList<TemperaturePoint> Temperature { get; init; }

    /// <summary>Stretches without gravity readings, in time order.</summary>
    public required ValueList<Gap> GravityGaps { get; init; }

    /// <summary>Hand readings beside what the sensor showed then, moved by earlier hand readings alone.</summary>
    public ValueList<HandPair> HandPairs { get; init; } = ValueList.Of<HandPair>();

    /// <summary>Entries of the journal that count, by time, without what they replaced.</summary>
    public ValueList<JournalEntry> Journal { get; init; } = ValueList.Of<JournalEntry>();

    /// <summary>What happened, in time order.</summary>
    public required ValueList<TimelineEvent> Events { get; init; }

    /// <summary>How each attached sensor is heard.</summary>
    public required ValueList<SensorStatus> Sensors { get; init; }

    /// <summary>Where the batteries of the attached sensors are going, as far as they send it.</summary>
    public ValueList<SensorBattery> Batteries { get; init; } = ValueList.Of<SensorBattery>();

    /// <summary>The least by which pressure in the vessel rises a day; null when no sensor tells. [kPa/d]</summary>
    public double? PressurePerDay { get; init; }

    /// <summary>The most by which gravity went up within the last day of the watch after sweetening, as a sensor showed it; null when nothing can be told. [points]</summary>
    public double? GravityRisePoints { get; init; }

    /// <summary>Alert episodes that live on the samples' time line, past ones included, in time order.</summary>
    public required ValueList<AlertEpisode> Episodes { get; init; }

    /// <summary>Until when somebody works on the vessel, as told at or before <see cref="Now"/>; null when nobody does.</summary>
    public EventTime? WorkingUntil { get; init; }

    /// <summary>Whether somebody works on the vessel now.</summary>
    public bool IsWorking => WorkingUntil is { } until && Now < until;

    /// <summary>Counts: stored readings of gravity, and how many of them were set aside.</summary>
    public required ReadingCounts GravityCounts { get; init; }
}

/// <summary>How many readings of a quantity the facts hold and how many were left out of the curve.</summary>
public readonly record struct ReadingCounts(int Stored, int SetAside);
