using System.Collections.Concurrent;
using System.Security.Cryptography;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.InOut;

/// <summary>Files of readings on their way in. They lie in a directory of their own, and go when they are old or the service starts anew.</summary>
internal sealed class ImportDesk : IDisposable
{
    /// <summary>Largest file. [bytes]</summary>
    public const long LargestFile = 20_000_000;

    private const int MostFiles = 5;

    private readonly string _directory;
    private readonly Store _store;
    private readonly PipelineSignals _signals;
    private readonly TimeProvider _clock;
    private readonly ILogger<ImportDesk> _log;
    private readonly ConcurrentDictionary<string, ImportFile> _files = new(StringComparer.Ordinal);

    public ImportDesk(string directory, Store store, PipelineSignals signals, TimeProvider clock, ILogger<ImportDesk> log)
    {
        (_directory, _store, _signals, _clock, _log) = (directory, store, signals, clock, log);
        if (Directory.Exists(directory))
        {
            Directory.Delete(directory, recursive: true);
        }
    }

    /// <summary>The file with that key, or null.</summary>
    public ImportFile? Find(string key) => _files.GetValueOrDefault(key);

    /// <summary>Takes a file in, without reading it.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public async Task<ImportFile> AddAsync(string name, Stream content, CancellationToken cancellationToken)
    {
        if (!Directory.Exists(_directory))
        {
            if (OperatingSystem.IsWindows())
            {
                Directory.CreateDirectory(_directory);
            }
            else
            {
                Directory.CreateDirectory(_directory, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            }
        }

        foreach (var old in _files.Values.Where(file => file.State != ImportState.Running).OrderByDescending(file => file.AddedAt).Skip(MostFiles - 1))
        {
            Remove(old);
        }

        var key = RandomNumberGenerator.GetHexString(16, lowercase: true);
        var path = Path.Combine(_directory, key + ".csv");
        await using (var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write))
        {
            await content.CopyToAsync(file, cancellationToken);
        }

        var added = new ImportFile(key, name, path, _clock.GetUtcNow());
        _files[key] = added;
        return added;
    }

    /// <summary>Begins to store the rows; a second call while it runs, or after it, does nothing.</summary>
    public void Start(ImportFile file, ImportChoices choices)
    {
        lock (file)
        {
            if (file.State != ImportState.Previewed)
            {
                return;
            }

            file.Choices = choices;
            file.State = ImportState.Running;
            file.Running = Task.Run(() => RunAsync(file, choices));
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var file in _files.Values)
        {
            file.Stop.Cancel();
            file.Running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing).GetAwaiter().GetResult();
            Remove(file);
        }
    }

    private async Task RunAsync(ImportFile file, ImportChoices choices)
    {
        try
        {
            var spans = new Dictionary<SensorId, (EventTime From, EventTime Until)>();
            using (var text = file.Open())
            {
                file.Counts = await _store.ImportAsync(Rows(file, choices, text, spans), counts => file.Counts = counts, file.Stop.Token);
            }

            await JoinAsync(choices, spans);
            Touch(spans.Keys);
            file.State = ImportState.Done;
            _log.LogInformation("A file of readings is stored: {Stored} readings, {Known} were known", file.Counts.Stored, file.Counts.Known);
        }
        catch (OperationCanceledException)
        {
            file.State = ImportState.Canceled;
        }
        catch (Exception fault) when (fault is StorageUnavailableException or IOException or ArgumentException)
        {
            _log.LogWarning("A file of readings could not be stored wholly: {Reason}", fault.Message);
            file.State = ImportState.Failed;
        }
    }

    private IEnumerable<IReadOnlyList<ImportedReading>> Rows(
        ImportFile file, ImportChoices choices, TextReader text, Dictionary<SensorId, (EventTime From, EventTime Until)> spans)
    {
        foreach (var row in new ImportRowReader(choices, _clock.GetUtcNow()).Read(text).Where(row => row.Readings.Count > 0))
        {
            foreach (var reading in row.Readings)
            {
                var (from, until) = spans.GetValueOrDefault(reading.Field.Sensor, (reading.At, reading.At));
                spans[reading.Field.Sensor] = (reading.At < from ? reading.At : from, reading.At > until ? reading.At : until);
            }

            file.Rows++;
            yield return row.Readings;
        }
    }

    private async Task JoinAsync(ImportChoices choices, Dictionary<SensorId, (EventTime From, EventTime Until)> spans)
    {
        if (choices.Batch is { } batch)
        {
            // The end is exclusive: the last sample belongs to it.
            var attachments = spans.Select(span => new ImportedAttachment(
                batch,
                new SensorAttachment(span.Key, span.Value.From, span.Value.Until + TimeSpan.FromMicroseconds(1), choices.Placement)));
            await _store.AttachImportedAsync([.. attachments], CancellationToken.None);
        }
    }

    private void Touch(IEnumerable<SensorId> sensors)
    {
        var changed = sensors.ToHashSet();
        _signals.Touch(_store.ReadBatches().Where(batch => batch.Sensors.Any(one => changed.Contains(one.Sensor))).Select(batch => batch.Id));
    }

    private void Remove(ImportFile file)
    {
        _files.TryRemove(file.Key, out _);
        file.Stop.Dispose();
        File.Delete(file.Path);
    }
}
