using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A number of a file that is to become a reading.</summary>
/// <param name="Field">Sensor, quantity, number, and the device's own time where the file tells it.</param>
/// <param name="At">When the sample was taken: not judged again.</param>
/// <param name="ReceivedAt">When it was first recorded; the time of the sample where the file does not tell.</param>
/// <param name="ClockTrusted">False when the file says that the device's clock was not trusted.</param>
public sealed record ImportedReading(DecodedField Field, EventTime At, ReceivedAt ReceivedAt, bool ClockTrusted);

/// <summary>What an import stored so far.</summary>
/// <param name="Stored">Readings added, corrections included.</param>
/// <param name="Known">Readings left out, since they were there.</param>
/// <param name="Corrected">Readings added that correct one at the same time.</param>
public readonly record struct ImportCounts(long Stored, long Known, long Corrected)
{
    /// <summary>Both together.</summary>
    public static ImportCounts operator +(ImportCounts left, ImportCounts right) =>
        new(left.Stored + right.Stored, left.Known + right.Known, left.Corrected + right.Corrected);
}

/// <summary>A sensor's time in a batch that an import asks for.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Attachment">The sensor's stretch there.</param>
public sealed record ImportedAttachment(BatchId Batch, SensorAttachment Attachment);
