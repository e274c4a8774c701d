using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.InOut;

/// <summary>Guesses how a file is to be read, from its first records: a proposal that the maker looks over.</summary>
internal static partial class ImportGuess
{
    private const int Looked = 60;

    private static readonly char[] Separators = [',', ';', '\t'];

    /// <summary>The first records under a separator.</summary>
    public static List<CsvRecord> Head(TextReader text, char separator) => [.. new CsvReader(text, separator).Records().Take(Looked)];

    /// <summary>The whole proposal.</summary>
    /// <param name="open">Opens the file's text anew.</param>
    /// <param name="zone">The reader's zone.</param>
    /// <param name="sensor">A name for the sensor.</param>
    public static ImportChoices Of(Func<TextReader> open, TimeZoneInfo zone, string sensor)
    {
        var separator = Separators.MaxBy(candidate => Score(open, candidate));
        using var text = open();
        return Of(Head(text, separator), separator, zone, sensor);
    }

    /// <summary>The proposal under a separator that is settled.</summary>
    public static ImportChoices Of(List<CsvRecord> head, char separator, TimeZoneInfo zone, string sensor)
    {
        var first = head.FirstOrDefault()?.Cells ?? [];
        var hasHeader = first.Any(cell => cell.Trim().Length > 0) && !first.Any(IsValue);
        var rows = head.Skip(hasHeader ? 1 : 0).ToList();
        var width = head.Count == 0 ? 0 : head.Max(record => record.Cells.Count);
        var columns = Enumerable.Range(0, width)
            .Select(column => rows.Where(row => column < row.Cells.Count).Select(row => row.Cells[column].Trim()).Where(cell => cell.Length > 0).ToList())
            .ToList();
        var comma = separator != ',' && columns.Any(cells => cells.Count(cell => CommaNumber().IsMatch(cell)) > cells.Count / 2);
        var dates = Enum.GetValues<DateStyle>().MaxBy(style => columns.Count == 0 ? 0 : columns.Max(cells => Share(cells, cell => IsTime(cell, style)))) is var best && columns.Count > 0 ? best : DateStyle.YearFirst;
        var roles = new List<ColumnRole>();
        for (var i = 0; i < width; i++)
        {
            var role = RoleOf(hasHeader && i < first.Count ? first[i] : "", columns[i], comma, dates);
            // Two columns of one quantity would give two numbers at one time: the second is the maker's to choose.
            var isTaken = role.Unit is { } unit
                ? roles.Any(other => other.Unit is { } taken && UnitConversion.QuantityOf(taken) == UnitConversion.QuantityOf(unit))
                : role != ColumnRole.None && roles.Contains(role);
            roles.Add(isTaken ? ColumnRole.None : role);
        }

        return new ImportChoices(separator, hasHeader, comma, dates, zone, roles, sensor, hasHeader && OwnColumns.Of(first) is not null);
    }

    private static double Score(Func<TextReader> open, char separator)
    {
        using var text = open();
        var head = Head(text, separator);
        var widths = head.ConvertAll(record => record.Cells.Count);
        var usual = widths.Count == 0 ? null : widths.GroupBy(width => width).MaxBy(group => group.Count());
        return usual is null || usual.Key < 2 ? 0 : ((double)usual.Count() / widths.Count)
            // A separator that cuts numbers and times in two leaves cells that are neither.
            + Share([.. head.SelectMany(record => record.Cells)], cell => cell.Length == 0 || IsValue(cell))
            + (Math.Min(usual.Key, 20) / 1000d);
    }

    private static bool IsTime(string cell, DateStyle style) => style switch
    {
        DateStyle.UnixSeconds => cell.Length is >= 9 and < 12 && ImportTimes.Looks(cell, style),
        DateStyle.UnixMilliseconds => cell.Length is >= 12 and < 15 && ImportTimes.Looks(cell, style),
        _ => ImportTimes.Looks(cell, style) || ImportTimes.LooksLikeDate(cell, style),
    };

    private static bool IsValue(string cell) => ImportRowReader.Number(cell, decimalComma: true) is not null
        || Enum.GetValues<DateStyle>().Any(style => IsTime(cell.Trim(), style));

    private static double Share(List<string> cells, Func<string, bool> holds) => cells.Count == 0 ? 0 : (double)cells.Count(holds) / cells.Count;

    private static ColumnRole RoleOf(string name, List<string> cells, bool comma, DateStyle dates)
    {
        const double Most = 0.7;
        if (Share(cells, cell => IsTime(cell, dates)) > Most)
        {
            return dates < DateStyle.UnixSeconds && Share(cells, cell => ImportTimes.LooksLikeDate(cell, dates)) > Most ? ColumnRole.Date : ColumnRole.Time;
        }

        if (Share(cells, ImportTimes.LooksLikeClock) > Most)
        {
            return ColumnRole.Clock;
        }

        var numbers = cells.Select(cell => ImportRowReader.Number(cell, comma)).OfType<double>().Order().ToList();
        return numbers.Count > cells.Count / 2 && numbers.Count > 0 && UnitOf(name, numbers[numbers.Count / 2]) is { } unit ? ColumnRole.Of(unit) : ColumnRole.None;
    }

    // The name says what, the middle value in which unit. Without a name only a specific gravity speaks for itself.
    private static MeasurementUnit? UnitOf(string name, double middle) => name.ToLowerInvariant() switch
    {
        var one when one.Contains("brix", StringComparison.Ordinal) || one.Contains("°bx", StringComparison.Ordinal) => MeasurementUnit.DegreesBrix,
        var one when one.Contains("plato", StringComparison.Ordinal) || one.Contains("°p", StringComparison.Ordinal) => MeasurementUnit.DegreesPlato,
        var one when GravityName().IsMatch(one) => middle switch
        {
            < 1.3 and > 0.9 => MeasurementUnit.SpecificGravity,
            > 900 => MeasurementUnit.KilogramsPerCubicMeter,
            > 32 => MeasurementUnit.GravityPoints,
            _ => MeasurementUnit.DegreesBrix,
        },
        var one when TemperatureName().IsMatch(one) => one.Contains("°f", StringComparison.Ordinal) || one.Contains("fahr", StringComparison.Ordinal) || one.EndsWith("_f", StringComparison.Ordinal) || middle > 45
            ? middle > 200 ? MeasurementUnit.Kelvin : MeasurementUnit.DegreesFahrenheit
            : MeasurementUnit.DegreesCelsius,
        "ph" => MeasurementUnit.PH,
        var one when one.Contains("batt", StringComparison.Ordinal) => middle > 15 ? MeasurementUnit.Percent : MeasurementUnit.Volts,
        "rssi" or "signal" => MeasurementUnit.DecibelMilliwatts,
        "" when middle is > 0.97 and < 1.2 => MeasurementUnit.SpecificGravity,
        _ => null,
    };

    [GeneratedRegex(@"^\s*[-+]?\d+,\d+\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex CommaNumber();

    [GeneratedRegex(@"grav|dens|\bsg\b|^sg|\bog\b", RegexOptions.CultureInvariant)]
    private static partial Regex GravityName();

    [GeneratedRegex(@"temp|celsius|fahrenheit|°c|°f|^t$", RegexOptions.CultureInvariant)]
    private static partial Regex TemperatureName();
}
