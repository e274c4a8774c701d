using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>A recorded batch: readings.csv in order of arrival, meta.json with what the maker told, journal.csv where there is one.</summary>
/// <remarks>A truth.json beside them is for scoring only and is never opened here.</remarks>
internal sealed class ReplayFolder
{
    private static readonly TimeSpan BetweenCuts = TimeSpan.FromHours(12);

    private readonly ReplayMeta _meta;
    private readonly IReadOnlyList<ExportedEntry> _journal;

    private ReplayFolder(ReplayMeta meta, ReplayReadings readings, IReadOnlyList<ExportedEntry> journal)
    {
        _journal = journal;
        Readings = readings;
        _meta = meta.Batch.Sensors.Count > 0 ? meta : meta with { Batch = meta.Batch with { Sensors = EverySensor(meta, readings) } };
        Cuts = meta.Cuts ?? Usual(meta, readings);
    }

    /// <summary>Name of the recording.</summary>
    public string Ferment => _meta.Ferment;

    /// <summary>The batch as the maker told it.</summary>
    public Batch Batch => _meta.Batch;

    /// <summary>What was assumed before any reading.</summary>
    public PriorSnapshot Prior => _meta.Prior;

    /// <summary>Moments to predict at.</summary>
    public IReadOnlyList<ReplayCut> Cuts { get; }

    /// <summary>The rows.</summary>
    public ReplayReadings Readings { get; }

    /// <summary>Reads one recording.</summary>
    /// <exception cref="BacktestException">A file of it is missing or wrong.</exception>
    public static ReplayFolder Load(string path) => new(ReplayMeta.Read(path), ReplayReadings.Read(path), ReplayJournal.Read(path));

    /// <summary>The recordings in a folder, by name; the folder itself when it is one.</summary>
    /// <exception cref="BacktestException">There is none.</exception>
    public static IReadOnlyList<string> Find(string folder)
    {
        if (!Directory.Exists(folder))
        {
            throw new BacktestException($"{folder}: there is no such folder.");
        }

        string[] found = File.Exists(Path.Combine(folder, "meta.json"))
            ? [folder]
            : [.. Directory.GetDirectories(folder).Where(inside => File.Exists(Path.Combine(inside, "meta.json"))).Order(StringComparer.Ordinal)];
        return found.Length > 0
            ? found
            : throw new BacktestException($"{folder}: no recording in it. A recording is a folder with meta.json and readings.csv, as the page of a batch exports it.");
    }

    /// <summary>All that was known at a cut: the rows that had arrived and the journal up to then.</summary>
    public BatchFacts FactsAt(ReplayCut cut) => new(
        Batch,
        [.. _journal.Where(entry => entry.At <= cut.At).Select(entry => entry.ToEntry(new ReceivedAt(cut.At.UnixMicroseconds)))],
        ReplayFacts.Of(Readings.Rows, Math.Min(cut.Rows, Readings.Rows.Count), _meta.GravityUnit, cut.At));

    private static ValueList<SensorAttachment> EverySensor(ReplayMeta meta, ReplayReadings readings) => ValueList.Of(
        readings.Rows.Select(row => row.Sensor).Distinct().Select(sensor => new SensorAttachment(sensor, meta.Batch.InoculatedAt, null, Placement.InLiquid)));

    // Without cuts in the file: every 12 hours from the inoculation to the last arrival.
    private static List<ReplayCut> Usual(ReplayMeta meta, ReplayReadings readings)
    {
        var arrivals = readings.Rows.Select(row => row.ReceivedAt is { } received ? new EventTime(received.UnixMicroseconds) : row.Stamp).ToList();
        var cuts = new List<ReplayCut>();
        if (arrivals.Max() is not { } end)
        {
            return cuts;
        }

        var rows = 0;
        for (var (at, number) = (meta.Batch.InoculatedAt + BetweenCuts, 0); at < end + BetweenCuts; at += BetweenCuts, number++)
        {
            while (rows < arrivals.Count && (arrivals[rows] is not { } arrival || arrival <= at))
            {
                rows++;
            }

            cuts.Add(new ReplayCut(number, at, rows));
        }

        return cuts;
    }
}
