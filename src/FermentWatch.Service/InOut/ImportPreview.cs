using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.InOut;

/// <summary>What an import would do.</summary>
/// <param name="First">The first rows as they would be read.</param>
/// <param name="Rows">Rows in all, the header aside.</param>
/// <param name="Readable">Rows that give at least one reading.</param>
/// <param name="Readings">Readings in them.</param>
/// <param name="Duplicates">Readings that come twice in the file or are stored already.</param>
/// <param name="Refused">Rows that cannot be read, or not wholly.</param>
/// <param name="FirstRefused">The first of them.</param>
/// <param name="From">Earliest sample.</param>
/// <param name="Until">Latest sample.</param>
public sealed record ImportPreview(
    IReadOnlyList<ImportRow> First,
    long Rows,
    long Readable,
    long Readings,
    long Duplicates,
    long Refused,
    IReadOnlyList<ImportRow> FirstRefused,
    EventTime? From,
    EventTime? Until)
{
    private const int Shown = 20;

    /// <summary>Reads the whole file once, keeping times and values alone.</summary>
    public static ImportPreview Of(ImportFile file, ImportChoices choices, Store store, DateTimeOffset now)
    {
        var (first, refused) = (new List<ImportRow>(), new List<ImportRow>());
        var (rows, readable, readings, refusals, twice) = (0L, 0L, 0L, 0L, 0L);
        var seen = new Dictionary<SeriesKey, HashSet<(long At, double Value)>>();
        using var text = file.Open();
        foreach (var row in new ImportRowReader(choices, now).Read(text))
        {
            rows++;
            readable += row.Readings.Count > 0 ? 1 : 0;
            if (first.Count < Shown)
            {
                first.Add(row);
            }

            if (row.Refusals.Count > 0 && refusals++ < Shown)
            {
                refused.Add(row);
            }

            foreach (var reading in row.Readings)
            {
                readings++;
                var key = new SeriesKey(reading.Field.Sensor, reading.Field.Quantity);
                if (!seen.TryGetValue(key, out var known))
                {
                    seen.Add(key, known = []);
                }

                twice += known.Add((reading.At.UnixMicroseconds, reading.Field.Value)) ? 0 : 1;
            }
        }

        var times = seen.Values.SelectMany(series => series.Select(one => one.At)).ToList();
        return new ImportPreview(
            first,
            rows,
            readable,
            readings,
            twice + Stored(seen, store),
            refusals,
            refused,
            times.Count == 0 ? null : new EventTime(times.Min()),
            times.Count == 0 ? null : new EventTime(times.Max()));
    }

    private static long Stored(Dictionary<SeriesKey, HashSet<(long At, double Value)>> seen, Store store)
    {
        var count = 0L;
        foreach (var sensor in seen.GroupBy(series => series.Key.Sensor))
        {
            var times = sensor.SelectMany(series => series.Value.Select(one => one.At)).ToList();
            store.ExportReadings(sensor.Key, new EventTime(times.Min()), new EventTime(times.Max() + 1), one =>
                count += seen.TryGetValue(one.Series, out var known) && known.Remove((one.Reading.At.UnixMicroseconds, one.Reading.Value)) ? 1 : 0);
        }

        return count;
    }
}
