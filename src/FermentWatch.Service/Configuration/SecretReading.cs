namespace FermentWatch.Service.Configuration;

/// <summary>A secret that is given itself, or by the file that holds it.</summary>
internal static class SecretReading
{
    /// <summary>The secret; null when neither is given or what is given cannot be used, which is collected.</summary>
    public static string? Of(SettingValues values, Setting<string?> itself, Setting<string?> file, string dataDirectory)
    {
        var secret = values.Get(itself);
        if (values.Get(file) is not { } path)
        {
            return secret;
        }

        if (values.Has(itself))
        {
            values.Add($"{itself.Key} and {file.Key} are both given: give one of them.");
            return null;
        }

        var full = Path.Combine(dataDirectory, path);
        var (text, problem) = TextFile.Read(full);
        var line = text?.Split('\n')[0].TrimEnd('\r') ?? string.Empty;
        if (line.Length > 0 && itself.Read(line).Ok)
        {
            return line;
        }

        values.Refuse(file, problem ?? (line.Length == 0 ? $"The first line of {full} is empty." : $"The first line of {full} is not {itself.Allowed}."));
        return null;
    }
}
