namespace FermentWatch.Service.Configuration;

/// <summary>Where the data lives.</summary>
public static class DataDirectory
{
    /// <summary>Name of the directory below the place that the system gives.</summary>
    public const string Name = "fermentwatch";

    /// <summary>The directory, absolute; it need not exist.</summary>
    /// <remarks>
    /// What was asked for on the command line; else <c>$XDG_DATA_HOME/fermentwatch</c> when that is absolute (XDG Base Directory Specification:
    /// relative paths are to be ignored); else on Linux <c>~/.local/share/fermentwatch</c>, elsewhere the system's place for local data.
    /// </remarks>
    /// <param name="asked">Value of <c>--data</c>, or null.</param>
    /// <param name="environment">Environment variables.</param>
    public static string Resolve(string? asked, IReadOnlyDictionary<string, string?> environment)
    {
        ArgumentNullException.ThrowIfNull(environment);
        if (!string.IsNullOrWhiteSpace(asked))
        {
            return Path.GetFullPath(asked);
        }

        if (environment.GetValueOrDefault("XDG_DATA_HOME") is { Length: > 0 } shared && Path.IsPathFullyQualified(shared))
        {
            return Path.Combine(shared, Name);
        }

        if (OperatingSystem.IsLinux() && environment.GetValueOrDefault("HOME") is { Length: > 0 } home && Path.IsPathFullyQualified(home))
        {
            return Path.Combine(home, ".local", "share", Name);
        }

        return Path.Combine(
            Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify),
            Name);
    }
}
