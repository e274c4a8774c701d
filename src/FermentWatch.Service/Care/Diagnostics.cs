using System.IO.Compression;
using System.Runtime.InteropServices;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Care;

/// <summary>A ZIP for whoever helps: version, settings without secrets, counts, health, the newest lines of the log. No reading, name or message.</summary>
public static class Diagnostics
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Writes the ZIP.</summary>
    /// <param name="settings">The settings; of secret ones only that they are given is told.</param>
    /// <param name="health">How the service is; null when it is not asked.</param>
    /// <param name="log">Newest lines of its log.</param>
    /// <param name="now">When.</param>
    /// <param name="stream">Where to.</param>
    /// <exception cref="DataDirectoryException">The database cannot be read.</exception>
    public static void Write(ServiceSettings settings, HealthReport? health, IReadOnlyList<string> log, DateTimeOffset now, Stream stream)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(log);
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        Add(zip, "about.json", new
        {
            version = typeof(Diagnostics).Assembly.GetName().Version?.ToString(3),
            at = now,
            runtime = RuntimeInformation.FrameworkDescription,
            system = RuntimeInformation.OSDescription,
            architecture = RuntimeInformation.ProcessArchitecture.ToString(),
            processors = Environment.ProcessorCount,
            memoryMegabytes = Environment.WorkingSet / 1_000_000,
            freeDiskMegabytes = FreeMegabytes(settings.DataDirectory),
            zone = settings.Page.Zone.Id,
        });
        Add(zip, "settings.json", settings.Given.Select(given => new { key = given.Key, value = given.Value ?? "(given, not told)", origin = given.Origin }));
        Add(zip, "database.json", DatabaseFacts.Of(new StoreOptions(settings.DataDirectory)));
        if (health is not null)
        {
            Add(zip, "health.json", health.Checks.Select(check => new { check.Name, condition = check.Condition.ToString(), check.Says }));
        }

        using var text = new StreamWriter(zip.CreateEntry("log.txt").Open());
        foreach (var line in log)
        {
            text.WriteLine(WithoutSecrets(line, settings.Secrets));
        }
    }

    /// <summary>No line of the log should hold one. This is the second lock on that door.</summary>
    private static string WithoutSecrets(string line, IReadOnlyList<string> secrets) =>
        secrets.Aggregate(line, (text, secret) => text.Replace(secret, "(secret)", StringComparison.Ordinal));

    private static void Add(ZipArchive zip, string name, object content)
    {
        using var stream = zip.CreateEntry(name).Open();
        JsonSerializer.Serialize(stream, content, content.GetType(), Indented);
    }

    private static long? FreeMegabytes(string directory)
    {
        try
        {
            return new DriveInfo(directory).AvailableFreeSpace / 1_000_000;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return null;
        }
    }
}
