using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.InOut;

/// <summary>Why a row, or one cell of it, is no reading.</summary>
/// <param name="Key">Key of the words.</param>
/// <param name="Values">What stands in them.</param>
public sealed record Refusal(string Key, params object[] Values);

/// <summary>A row as it would be read.</summary>
/// <param name="Record">The record of the file.</param>
/// <param name="Readings">What can be stored.</param>
/// <param name="Refusals">What cannot.</param>
public sealed record ImportRow(CsvRecord Record, IReadOnlyList<ImportedReading> Readings, IReadOnlyList<Refusal> Refusals);

/// <summary>Turns the records of a file into readings, in order.</summary>
internal sealed class ImportRowReader(ImportChoices choices, DateTimeOffset now)
{
    private readonly ImportTimes _times = new(choices.Dates, choices.Zone);
    private OwnColumns? _own;

    /// <summary>The rows behind the header.</summary>
    public IEnumerable<ImportRow> Read(TextReader text)
    {
        var isFirst = true;
        foreach (var record in new CsvReader(text, choices.Separator).Records())
        {
            if (isFirst && choices.HasHeader)
            {
                _own = choices.IsOwnLayout ? OwnColumns.Of(record.Cells) : null;
                isFirst = false;
                continue;
            }

            isFirst = false;
            yield return record.IsMalformed ? Refused(record, new Refusal("refused-quote"))
                : _own is { } own ? own.Read(record, now)
                : Wide(record);
        }
    }

    /// <summary>A number as the file writes it, or null.</summary>
    public static double? Number(string text, bool decimalComma)
    {
        var plain = text.Replace("\u00a0", "", StringComparison.Ordinal).Trim();
        if (decimalComma && plain.Contains(',', StringComparison.Ordinal))
        {
            plain = plain.Contains('.', StringComparison.Ordinal) ? "" : plain.Replace(',', '.');
        }

        return double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) ? number : null;
    }

    internal static ImportRow Refused(CsvRecord record, Refusal refusal) => new(record, [], [refusal]);

    /// <summary>What is wrong with a number in a unit, or null.</summary>
    internal static Refusal? Fault(double number, string text, MeasurementUnit unit) => UnitConversion.IsPlausible(number, unit)
        ? null
        : new Refusal("refused-range", text, SettingWords.Of(unit), UnitConversion.LowestPlausible(unit), UnitConversion.HighestPlausible(unit));

    private ImportRow Wide(CsvRecord record)
    {
        var stamp = string.Join(' ', Cells(record, ColumnRole.Time).Concat(Cells(record, ColumnRole.Date)).Concat(Cells(record, ColumnRole.Clock)));
        if (stamp.Length == 0)
        {
            return Refused(record, new Refusal("refused-no-time"));
        }

        if (_times.Read(stamp, out var fault) is not { } at)
        {
            return Refused(record, new Refusal(fault!, stamp));
        }

        if (at.ToDateTimeOffset() > now + ClockRepair.FurthestAhead)
        {
            return Refused(record, new Refusal("refused-future", stamp));
        }

        var readings = new List<ImportedReading>();
        var refusals = new List<Refusal>();
        for (var i = 0; i < Math.Min(choices.Columns.Count, record.Cells.Count); i++)
        {
            var text = record.Cells[i].Trim();
            if (choices.Columns[i].Unit is not { } unit || text.Length == 0)
            {
                continue;
            }

            if (Number(text, choices.DecimalComma) is not { } number)
            {
                refusals.Add(new Refusal("refused-number", text));
            }
            else if (Fault(number, text, unit) is { } wrong)
            {
                refusals.Add(wrong);
            }
            else
            {
                var field = new DecodedField(new SensorId(choices.Sensor), UnitConversion.QuantityOf(unit), unit, number, UnitConversion.ToCanonical(number, unit), at);
                readings.Add(new ImportedReading(field, at, new ReceivedAt(at.UnixMicroseconds), ClockTrusted: true));
            }
        }

        return readings.Count + refusals.Count == 0 ? Refused(record, new Refusal("refused-empty")) : new ImportRow(record, readings, refusals);
    }

    private IEnumerable<string> Cells(CsvRecord record, ColumnRole role)
    {
        for (var i = 0; i < Math.Min(choices.Columns.Count, record.Cells.Count); i++)
        {
            if (choices.Columns[i] == role && record.Cells[i].Trim() is { Length: > 0 } text)
            {
                yield return text;
            }
        }
    }
}
