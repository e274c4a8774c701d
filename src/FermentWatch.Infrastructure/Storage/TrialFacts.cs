using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Where a bench trial stands. Stored by number: never renumber.</summary>
public enum TrialState
{
    /// <summary>Planned; stock and glasses are mixed, or a free glass grows.</summary>
    Mixing = 1,

    /// <summary>Tasters give their answers.</summary>
    Tasting = 2,

    /// <summary>No more answers: what is in the glasses may be known.</summary>
    Told = 3,

    /// <summary>A dose was chosen and goes into the batch.</summary>
    ScalingUp = 4,

    /// <summary>All is in.</summary>
    Done = 5,

    /// <summary>Given up; kept, since wine was used.</summary>
    GivenUp = 6,
}

/// <summary>A batch as it is dosed: what was asked on the day.</summary>
/// <param name="VolumeLiters">Volume measured that day. [L]</param>
/// <param name="VolumeErrorLiters">Half-width of its error. [L]</param>
/// <param name="IsStabilized">Whether it was stabilized; null when not known.</param>
public sealed record TrialDosing(double VolumeLiters, double VolumeErrorLiters, bool? IsStabilized);

/// <summary>What was done about a trial beside tasting.</summary>
public sealed record TrialWork
{
    /// <summary>Codes that are mixed, and <c>stock-NAME</c> for stocks.</summary>
    public ImmutableArray<string> Mixed { get; init; } = [];

    /// <summary>The batch on the day of dosing; null before.</summary>
    public TrialDosing? Dosing { get; init; }

    /// <summary>Steps of the dosing that are done, by their place in the list from 0.</summary>
    public ImmutableArray<int> Steps { get; init; } = [];

    /// <summary>What was written into the journal: an additive and which part of it, such as <c>sucrose-first</c>.</summary>
    public ImmutableArray<string> Written { get; init; } = [];

    /// <summary>Whether anything went into the batch already; jars that were filled take nothing from the choice.</summary>
    [JsonIgnore]
    public bool IsDosed => Written.Any(key => key.EndsWith("-first", StringComparison.Ordinal) || key.EndsWith("-rest", StringComparison.Ordinal) || key.EndsWith("-all", StringComparison.Ordinal));
}

/// <summary>A bench trial as it is stored.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Batch">Which batch it is for.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Trial">The trial.</param>
/// <param name="Work">What was done about it.</param>
/// <param name="MadeAt">When it was planned.</param>
/// <param name="ChangedAt">When it changed last.</param>
/// <param name="Revision">Counts changes from 1.</param>
public sealed record StoredTrial(
    long Id, BatchId Batch, TrialState State, BenchTrial Trial, TrialWork Work, ReceivedAt MadeAt, ReceivedAt ChangedAt, long Revision);

/// <summary>A guest code that counts.</summary>
/// <param name="Code">The code, as the caller encrypted it.</param>
/// <param name="ExpiresAt">Until when.</param>
public sealed record TastingDoor(string Code, ReceivedAt ExpiresAt);

/// <summary>A place at a tasting that somebody's browser holds.</summary>
/// <param name="Trial">Which trial.</param>
/// <param name="Taster">Name of the taster.</param>
public sealed record TastingSeat(long Trial, string Taster);

/// <summary>How the work about a trial becomes JSON.</summary>
internal static class TrialWorkJson
{
    public static string Write(TrialWork work) => JsonSerializer.Serialize(work);

    public static TrialWork Read(string json) => JsonSerializer.Deserialize<TrialWork>(json) ?? throw new FormatException("The stored work of a bench trial is empty.");
}
