using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.InOut;

/// <summary>The layout in which this program writes readings: a row a reading, with all that makes it a fact.</summary>
internal sealed class OwnColumns
{
    /// <summary>Names of the columns, in order.</summary>
    public static IReadOnlyList<string> Names { get; } =
        ["time", "sensor", "quantity", "value", "unit", "raw", "raw_unit", "device_time", "received_at", "clock", "set_aside"];

    private readonly Dictionary<string, int> _places;

    private OwnColumns(Dictionary<string, int> places) => _places = places;

    /// <summary>The layout, when the header is one of ours; else null.</summary>
    public static OwnColumns? Of(IReadOnlyList<string> header)
    {
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < header.Count; i++)
        {
            places.TryAdd(header[i].Trim().TrimStart('\ufeff'), i);
        }

        return Names.Take(Names.Count - 1).All(places.ContainsKey) ? new OwnColumns(places) : null;
    }

    /// <summary>A row for a reading.</summary>
    /// <param name="one">The reading.</param>
    /// <param name="setAside">Why it is left out of the curve, in words; empty when it is not.</param>
    public static string Row(ExportedReading one, string setAside) => CsvCells.Row(
        one.Reading.At,
        one.Series.Sensor.Value,
        SettingWords.Of(one.Series.Quantity),
        one.Reading.Value,
        SettingWords.Of(one.Series.Quantity == QuantityKind.Battery ? one.Unit : UnitConversion.UnitsOf(one.Series.Quantity)[0]),
        one.Reading.Raw,
        SettingWords.Of(one.Unit),
        one.Reading.DeviceTime?.ToString(),
        one.Reading.ReceivedAt.ToString(),
        one.Reading.ClockTrusted ? "trusted" : "not-trusted",
        setAside);

    /// <summary>A record as a reading.</summary>
    public ImportRow Read(CsvRecord record, DateTimeOffset now)
    {
        string Cell(string name) => _places[name] is var place && place < record.Cells.Count ? record.Cells[place].Trim() : "";
        EventTime? Time(string name) => IsoTime.Read(Cell(name), out _);
        if (Time("time") is not { } at || (Cell("device_time").Length > 0 && Time("device_time") is null) || Time("received_at") is not { } received)
        {
            return ImportRowReader.Refused(record, new Refusal("refused-time", Cell("time")));
        }

        if (at.ToDateTimeOffset() > now + ClockRepair.FurthestAhead)
        {
            return ImportRowReader.Refused(record, new Refusal("refused-future", Cell("time")));
        }

        if (!SettingWords.Units.TryGetValue(Cell("raw_unit"), out var unit) || !SettingWords.Quantities.TryGetValue(Cell("quantity"), out var quantity)
            || UnitConversion.QuantityOf(unit) != quantity)
        {
            return ImportRowReader.Refused(record, new Refusal("refused-unit", Cell("quantity"), Cell("raw_unit")));
        }

        if (CsvCells.Original(Cell("sensor")) is not { Length: >= 1 and <= 80 } sensor)
        {
            return ImportRowReader.Refused(record, new Refusal("refused-sensor", Cell("sensor")));
        }

        if (ImportRowReader.Number(Cell("raw"), decimalComma: false) is not { } raw || ImportRowReader.Number(Cell("value"), decimalComma: false) is not { } value)
        {
            return ImportRowReader.Refused(record, new Refusal("refused-number", Cell("raw").Length > 0 ? Cell("raw") : Cell("value")));
        }

        var field = new DecodedField(new SensorId(sensor), quantity, unit, raw, value, Time("device_time"));
        return new ImportRow(record, [new ImportedReading(field, at, new ReceivedAt(received.UnixMicroseconds), Cell("clock") != "not-trusted")], []);
    }
}
