using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Which batch a reading belongs to. A handful of rows, read once.</summary>
internal sealed class AttachmentList(WriteConnection connection)
{
    private ILookup<SensorId, (BatchId Batch, SensorAttachment Attachment)>? _bySensor;

    /// <summary>Batches to which a sensor belongs at an event time; a sensor of the room may belong to several.</summary>
    public IEnumerable<BatchId> BatchesOf(SensorId sensor, EventTime at)
    {
        _bySensor ??= connection
            .Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment")
            .List(row => (Batch: new BatchId(row.GetString(0)), Attachment: BatchRows.Attachment(row)))
            .ToLookup(pair => pair.Attachment.Sensor);
        foreach (var (batch, attachment) in _bySensor[sensor])
        {
            if (attachment.Covers(at))
            {
                yield return batch;
            }
        }
    }

    /// <summary>The rows changed: they are read again.</summary>
    public void Forget() => _bySensor = null;
}
