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
        var file = Open(directory);
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

    /// <summary>The same for content that is written by awaiting.</summary>
    public static async Task<IResult> SendAsync(string directory, string name, string type, Func<Stream, Task> write)
    {
        var file = Open(directory);
        try
        {
            await write(file);
            file.Position = 0;
            return Results.Stream(file, type, name);
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    private static FileStream Open(string directory)
    {
        Directory.CreateDirectory(directory);
        return new FileStream(
            Path.Combine(directory, Path.GetRandomFileName()), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose);
    }
}
