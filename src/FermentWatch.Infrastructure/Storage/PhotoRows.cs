using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A photo, made anew by us without anything that the camera wrote beside the picture.</summary>
/// <param name="Width">Width of the picture. [pixels]</param>
/// <param name="Height">Height of the picture. [pixels]</param>
/// <param name="Jpeg">The picture as JPEG.</param>
/// <param name="Small">A smaller one as JPEG, for lists.</param>
public sealed record Photo(int Width, int Height, byte[] Jpeg, byte[] Small);

/// <summary>Photos between table and type.</summary>
internal static class PhotoRows
{
    /// <summary>Adds a photo; its number.</summary>
    public static long Add(WriteConnection connection, BatchId batch, Photo photo) => connection
        .Statement("INSERT INTO photo (batch, width, height, jpeg, small) VALUES (?1, ?2, ?3, ?4, ?5) RETURNING id")
        .Number(batch.Value, photo.Width, photo.Height, photo.Jpeg, photo.Small)
        ?? throw new InvalidOperationException("The table of photos returned no number for a new row.");
}
