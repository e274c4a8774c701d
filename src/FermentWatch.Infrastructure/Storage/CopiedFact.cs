using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A fact on its way to a copy that is kept elsewhere. Copying one twice must do no harm there.</summary>
public abstract record CopiedFact
{
    private CopiedFact()
    {
    }

    /// <summary>A reading as it stands now.</summary>
    /// <param name="Series">Which stream.</param>
    /// <param name="UnixNanoseconds">Its time, unique within the series: see <see cref="PlaceInMicrosecond"/>.</param>
    /// <param name="Figures">What was measured; null when it left the series.</param>
    /// <param name="Counts">False when it was corrected or set aside, or left the series.</param>
    public sealed record OneReading(SeriesKey Series, long UnixNanoseconds, ReadingFigures? Figures, bool Counts) : CopiedFact;

    /// <summary>A forecast with what else was said then.</summary>
    /// <param name="Batch">The batch.</param>
    /// <param name="Name">Its name as it is now.</param>
    /// <param name="Vessel">Its vessel, or null.</param>
    /// <param name="Record">The forecast as it is kept.</param>
    /// <param name="Sensors">Sensors that belonged to the batch at that grid line.</param>
    public sealed record OneForecast(BatchId Batch, string Name, string? Vessel, ForecastRecord Record, IReadOnlyList<SensorAttachment> Sensors) : CopiedFact;

    /// <summary>All alerts that the set of a batch remembers.</summary>
    /// <param name="Batch">The batch; null for the service itself.</param>
    /// <param name="AlertSet">The set as JSON.</param>
    public sealed record AlertsOf(BatchId? Batch, string AlertSet) : CopiedFact;

    /// <summary>
    /// The nanoseconds within the microsecond by which readings of a series at one time are told apart: 0 for the one that the device
    /// itself gave its time, of which only one counts; 1 to 999 by number of arrival for all others.
    /// </summary>
    internal static long PlaceInMicrosecond(bool hasOwnTime, long sequence) => hasOwnTime ? 0 : 1 + (sequence % 999);
}

/// <summary>The numbers of a reading.</summary>
/// <param name="Value">In the unit in which the quantity is kept.</param>
/// <param name="Raw">As the device sent it.</param>
/// <param name="Delay">From its event time to its arrival.</param>
/// <param name="ClockTrusted">False when the event time is not the device's own, though it sent one.</param>
public readonly record struct ReadingFigures(double Value, double Raw, TimeSpan Delay, bool ClockTrusted);

/// <summary>How far a follower has read.</summary>
/// <param name="Whole">Number of the last change that was read wholly.</param>
/// <param name="Within">The last reading taken of the change behind it; null when none was.</param>
public readonly record struct ChangePlace(long Whole, (long T, long Sequence)? Within);

/// <summary>Facts read from one place to the next.</summary>
/// <param name="Facts">In the order of the changes.</param>
/// <param name="Next">Where to read on.</param>
/// <param name="IsLast">Whether nothing lies behind it.</param>
public sealed record ChangeStep(IReadOnlyList<CopiedFact> Facts, ChangePlace Next, bool IsLast);
