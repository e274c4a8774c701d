using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.InOut;

namespace FermentWatch.Service.Backtest;

/// <summary>A row of readings.csv. A message may hold one of the two numbers; its arrival may be recorded.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Stamp">Time as the device stamped it; null where that cannot be read.</param>
/// <param name="Gravity">In the unit of meta.json, or null.</param>
/// <param name="Celsius">°C, or null.</param>
/// <param name="ReceivedAt">When it arrived, where the recording knows.</param>
internal sealed record ReplayRow(SensorId Sensor, EventTime? Stamp, double? Gravity, double? Celsius, ReceivedAt? ReceivedAt);

/// <summary>Rows of a recording in order of arrival.</summary>
/// <param name="Rows">All of them; a cut counts them, so a row that cannot be read keeps its place.</param>
/// <param name="Unreadable">How many have something that cannot be read.</param>
/// <param name="FirstUnreadable">A sentence about the first of those.</param>
internal sealed record ReplayReadings(IReadOnlyList<ReplayRow> Rows, int Unreadable, string? FirstUnreadable)
{
    private static readonly string[] Needed = ["sensor_id", "time", "gravity", "temperature_c"];

    /// <summary>Reads the file. What the live service would refuse of a message (a number that is none) is left out and counted.</summary>
    /// <exception cref="BacktestException">The file or one of its columns is missing.</exception>
    public static ReplayReadings Read(string folder)
    {
        var path = Path.Combine(folder, "readings.csv");
        try
        {
            using var text = new StreamReader(path);
            return Read(path, text);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new BacktestException($"{path}: cannot be read ({fault.Message})", fault);
        }
    }

    private static ReplayReadings Read(string path, TextReader text)
    {
        using var records = new CsvReader(text, ',').Records().GetEnumerator();
        if (!records.MoveNext())
        {
            throw new BacktestException($"{path}: empty; its first line must name the columns {string.Join(", ", Needed)}.");
        }

        var header = records.Current.Cells.Select(cell => cell.Trim().TrimStart('\ufeff')).ToList();
        foreach (var name in Needed.Where(name => !header.Contains(name)))
        {
            throw new BacktestException($"{path}: the column '{name}' is missing; the first line is '{string.Join(',', header)}'.");
        }

        int Place(string name) => header.IndexOf(name);
        var (sensor, time, gravity, celsius, received) = (Place("sensor_id"), Place("time"), Place("gravity"), Place("temperature_c"), Place("received_at"));
        var rows = new List<ReplayRow>();
        var unreadable = 0;
        string? first = null;
        while (records.MoveNext())
        {
            var record = records.Current;
            var wrong = record.IsMalformed ? "a quote that is never closed" : null;
            string Cell(int place) => place >= 0 && place < record.Cells.Count ? record.Cells[place].Trim() : "";
            EventTime? Time(int place)
            {
                var cell = Cell(place);
                var read = cell.Length > 0 ? IsoTime.Read(cell, out _) : null;
                wrong ??= read is null && (cell.Length > 0 || place == time) ? $"the time '{cell}'" : null;
                return read;
            }

            double? Number(int place)
            {
                var cell = Cell(place);
                var isNumber = double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number);
                wrong ??= !isNumber && cell.Length > 0 ? $"the number '{cell}'" : null;
                return isNumber ? number : null;
            }

            rows.Add(new ReplayRow(
                new SensorId(CsvCells.Original(Cell(sensor))),
                Time(time),
                Number(gravity),
                Number(celsius),
                received >= 0 && Time(received) is { } arrival ? new ReceivedAt(arrival.UnixMicroseconds) : null));
            if (wrong is not null)
            {
                unreadable++;
                first ??= string.Create(CultureInfo.InvariantCulture, $"{path}, line {record.Line}: {wrong} cannot be read");
            }
        }

        return new ReplayReadings(rows, unreadable, first);
    }
}
