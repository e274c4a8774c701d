using System.IO.Compression;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.InOut;

/// <summary>Takes a full export into an empty store.</summary>
internal static class FullImport
{
    /// <summary>Takes it in whole, or not at all.</summary>
    /// <param name="path">The ZIP file.</param>
    /// <param name="store">An empty store.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Rows by table.</returns>
    /// <exception cref="WholeImportException">It is none, or cannot be taken in: the message says why.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public static async Task<IReadOnlyDictionary<string, long>> RunAsync(string path, Store store, CancellationToken cancellationToken)
    {
        try
        {
            using var zip = await ZipFile.OpenReadAsync(path, cancellationToken);
            var version = await VersionAsync(zip, cancellationToken);
            return version == FullExport.Version
                ? await store.ReadWholeAsync(name => zip.GetEntry(FullExport.TablePath(name))?.Open(), cancellationToken)
                : throw new WholeImportException(version is null
                    ? $"{path} is no full export of FermentWatch: it has no {FullExport.AboutName}. On the page: Settings, Export everything."
                    : $"{path} is a full export of version {version}; this program reads version {FullExport.Version}.");
        }
        catch (Exception fault) when (fault is InvalidDataException or JsonException)
        {
            throw new WholeImportException($"{path} is no full export of FermentWatch: {fault.Message}", fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new WholeImportException($"{path} cannot be read: {fault.Message}", fault);
        }
    }

    private static async Task<int?> VersionAsync(ZipArchive zip, CancellationToken cancellationToken)
    {
        if (zip.GetEntry(FullExport.AboutName) is not { } entry)
        {
            return null;
        }

        await using var stream = await entry.OpenAsync(cancellationToken);
        using var about = await JsonDocument.ParseAsync(stream, default, cancellationToken);
        return about.RootElement.ValueKind == JsonValueKind.Object && about.RootElement.TryGetProperty("version", out var version) && version.TryGetInt32(out var number) ? number : null;
    }
}
