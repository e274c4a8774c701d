using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Another field of a message turned out to be meant: its readings are read again from the messages that are still at hand.</summary>
internal static class SourceChangeWriter
{
    /// <summary>Reads again, in one transaction. A reading whose message is gone, or whose message lacks the field, is set aside as corrected: it holds the wrong number.</summary>
    public static SourceChangeReport Write(WriteConnection connection, TopicMapping mapping, FieldMapping field)
    {
        var key = new SeriesKey(new SensorId(mapping.Sensor), field.Quantity);
        var series = connection.Memory.Series.Of(key);
        var one = new TopicMapping(mapping.Sensor, mapping.Filter, ValueList.Of(field), null);
        var rows = connection.Statement("""
            SELECT r.t, r.n, inbox.payload, topic.name
            FROM reading r LEFT JOIN inbox ON inbox.sequence = r.n LEFT JOIN topic ON topic.id = inbox.topic
            WHERE r.series = ?1 AND r.unit = ?2 AND (r.quality & 2) = 0 ORDER BY r.t, r.n
            """).List(row => (T: row.GetInt64(0), N: row.GetInt64(1), Payload: row.Bytes(2), Topic: row.TextOrNull(3)), series.Id, (int)field.Unit);
        var rollups = new RollupWriter(connection);
        var batches = new HashSet<BatchId>();
        var (again, aside) = (0, 0);
        foreach (var (t, n, payload, topic) in rows.Where(row => row.Topic is not { } topic || mapping.Filter.Matches(topic)))
        {
            if (topic is not null && PayloadDecoder.Decode(topic, payload, one).Accepted is [var found, ..])
            {
                connection.Statement("UPDATE reading SET raw = ?4, value = ?5 WHERE series = ?1 AND t = ?2 AND n = ?3")
                    .Run(series.Id, t, n, UnitChangeWriter.Stored(found.Raw, found.Value), found.Value);
                again++;
            }
            else
            {
                connection.Statement("UPDATE reading SET quality = quality | 2 WHERE series = ?1 AND t = ?2 AND n = ?3").Run(series.Id, t, n);
                aside++;
            }

            connection.Memory.Changes.Reading(key, t);
            rollups.Recompute(series.Id, new EventTime(t));
            batches.UnionWith(connection.Memory.Attachments.BatchesOf(key.Sensor, new EventTime(t)));
        }

        rollups.Flush();
        foreach (var batch in batches)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return new SourceChangeReport(again, aside, batches);
    }
}
