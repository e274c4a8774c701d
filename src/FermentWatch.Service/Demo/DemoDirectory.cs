using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Demo;

/// <summary>The directory of the demo's data: apart from any real data, and begun anew each time.</summary>
internal static class DemoDirectory
{
    private const string MarkName = "demo-data";

    /// <summary>Empties the directory of an earlier demo, or makes it. What went wrong, or null.</summary>
    /// <remarks>A directory that holds anything but a demo is left alone.</remarks>
    public static string? Renew(string directory)
    {
        try
        {
            var mark = Path.Combine(directory, MarkName);
            if (Directory.Exists(directory) && !File.Exists(mark) && Directory.EnumerateFileSystemEntries(directory).Any())
            {
                return $"'{directory}' holds something that is not demo data. Choose another directory with --data; the demo would empty it.";
            }

            Directory.CreateDirectory(directory);
            foreach (var file in Directory.EnumerateFiles(directory, StoreOptions.FileName + "*"))
            {
                File.Delete(file);
            }

            File.WriteAllText(mark, "This directory holds demo data of an invented cellar. It is emptied at every start of the demo.\n");
            return null;
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return $"The demo's directory '{directory}' cannot be used: {exception.Message} Choose another with --data.";
        }
    }
}
