using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Photos of the journal.</summary>
public sealed partial class Store
{
    /// <summary>A photo of a batch, or null when the batch has none of that number.</summary>
    public Photo? ReadPhoto(BatchId batch, long number) => _reads.Read(read => read
        .Statement("SELECT width, height, jpeg, small FROM photo WHERE id = ?1 AND batch = ?2")
        .List(row => new Photo(row.GetInt32(0), row.GetInt32(1), row.Bytes(2), row.Bytes(3)), number, batch.Value)
        .SingleOrDefault());

    /// <summary>Numbers of all photos of a batch, those of entries that were corrected or taken back included.</summary>
    public IReadOnlyList<long> ReadPhotoNumbers(BatchId batch) => _reads.Read<IReadOnlyList<long>>(read => read
        .Statement("SELECT id FROM photo WHERE batch = ?1 ORDER BY id")
        .List(row => row.GetInt64(0), batch.Value));
}
