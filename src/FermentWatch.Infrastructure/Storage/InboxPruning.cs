using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Deletes raw messages whose time is over, never one that still waits to be decoded.</summary>
internal static class InboxPruning
{
    /// <summary>Name of the tally of room that decoded messages take. [bytes]</summary>
    public const string RoomTally = "inbox-bytes";

    /// <summary>Room of a message beside its payload. [bytes] An estimate from the column widths.</summary>
    public const int RoomBesidePayload = 60;

    /// <summary>Deletes the oldest decoded messages, at most <paramref name="most"/> of them.</summary>
    public static int Prune(WriteConnection connection, ReceivedAt oldest, long maximumBytes, int most)
    {
        var cursor = connection.Statement("SELECT sequence FROM cursor WHERE name = ?1").Number(DecodeWriter.CursorName) ?? 0;
        var room = connection.Statement("SELECT count FROM tally WHERE name = ?1").Number(RoomTally) ?? 0;
        var last = 0L;
        var freed = 0L;
        var count = 0;
        using (var rows = connection.Statement("SELECT sequence, received, length(payload) FROM inbox WHERE sequence <= ?1 ORDER BY sequence LIMIT ?2").Rows(cursor, most))
        {
            // In order of arrival up to the first that may stay: a clock that was set back delays pruning, it never tears holes.
            while (rows.Read() && (rows.GetInt64(1) < oldest.UnixMicroseconds || room - freed > maximumBytes))
            {
                last = rows.GetInt64(0);
                freed += rows.GetInt64(2) + RoomBesidePayload;
                count++;
            }
        }

        if (count > 0)
        {
            connection.Statement("DELETE FROM inbox WHERE sequence <= ?1").Run(last);
            connection.Memory.Count(RoomTally, -freed);
        }

        return count;
    }
}
