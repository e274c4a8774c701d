namespace FermentWatch.Service.InOut;

/// <summary>An export is written to a file that goes when it was sent: neither the memory nor the database waits for a slow line.</summary>
internal static class ExportFile
{
    /// <summary>Writes the export and sends it.</summary>
    /// <param name="directory">Where the file lies meanwhile.</param>
    /// <param name="name">What the reader's copy is called.</param>
    /// <param name="type">Its media type.</param>
    /// <param name="write">Writes the content.</param>
    public static IResult Send(string directory, string name, string type, Action<Stream> write)
    {
        Directory.CreateDirectory(directory);
        var file = new FileStream(
            Path.Combine(directory, Path.GetRandomFileName()), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose);
        try
        {
            write(file);
            file.Position = 0;
            return Results.Stream(file, type, name);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }
}
