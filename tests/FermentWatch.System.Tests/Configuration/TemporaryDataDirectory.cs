using FermentWatch.Service.Configuration;

namespace FermentWatch.System.Tests.Configuration;

/// <summary>A data directory of its own, removed at the end.</summary>
internal sealed class TemporaryDataDirectory : IDisposable
{
    public TemporaryDataDirectory(string? configuration)
    {
        if (configuration is not null)
        {
            File.WriteAllText(Path.Combine(Location, SettingsLoader.FileName), configuration);
        }
    }

    public string Location { get; } = Directory.CreateTempSubdirectory("fermentwatch-settings-").FullName;

    public SettingsResult Load(
        IReadOnlyDictionary<string, string?>? environment = null,
        IReadOnlyDictionary<string, string?>? overrides = null) =>
        SettingsLoader.Load(Location, environment ?? new Dictionary<string, string?>(), overrides ?? new Dictionary<string, string?>());

    public void Dispose() => Directory.Delete(Location, recursive: true);
}
