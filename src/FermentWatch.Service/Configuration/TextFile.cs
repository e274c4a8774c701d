namespace FermentWatch.Service.Configuration;

/// <summary>Reads small text files that settings name, or says in plain words why it cannot.</summary>
internal static class TextFile
{
    private const long LongestBytes = 1_000_000;

    public static (string? Text, string? Problem) Read(string path)
    {
        try
        {
            var file = new FileInfo(path);
            if (Directory.Exists(path))
            {
                return (null, $"{path} is a directory.");
            }

            if (!file.Exists)
            {
                return (null, $"{path} does not exist.");
            }

            return file.Length > LongestBytes
                ? (null, $"{path} is longer than 1 MB.")
                : (File.ReadAllText(path), null);
        }
        catch (UnauthorizedAccessException)
        {
            return (null, $"{path} must not be read by this user.");
        }
        catch (IOException failure)
        {
            return (null, $"{path} cannot be read: {failure.Message}");
        }
    }
}
