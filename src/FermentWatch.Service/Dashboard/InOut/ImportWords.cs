using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.InOut;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>Says what became of rows.</summary>
internal static class ImportWords
{
    private const int LongestQuote = 40;

    public static string Of(Refusal refusal) =>
        InOutText.Of(refusal.Key, [.. refusal.Values.Select(value => value is string text ? Short(text) : value)]);

    public static string Of(ColumnRole role) => role.Unit is { } unit
        ? InOutText.Of("role-unit", SettingWords.Of(UnitConversion.QuantityOf(unit)), SettingWords.Of(unit))
        : InOutText.Of("role-" + role.Key);

    /// <summary>The time as it was understood: in UTC, so that nothing is left to guess.</summary>
    public static string Time(ImportRow row) => row.Readings.Count == 0
        ? ""
        : row.Readings[0].At.ToDateTimeOffset().ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    public static string Read(ImportRow row, Reader reader) => string.Join("; ", row.Readings.Select(one => Reading(one, reader)).Concat(row.Refusals.Select(Of)));

    public static string Day(EventTime time, Reader reader) => reader.DayOfYear(time);

    public static string Short(string text) => text.Length <= LongestQuote ? text : text[..(LongestQuote - 1)] + "…";

    private static string Reading(Infrastructure.Storage.ImportedReading reading, Reader reader)
    {
        var (field, quantity) = (reading.Field, reading.Field.Quantity);
        var kept = quantity == QuantityKind.Battery ? field.Unit : UnitConversion.UnitsOf(quantity)[0];
        // One digit more than pages show: what the file holds is to be recognized.
        var value = quantity switch
        {
            QuantityKind.Gravity => reader.Number(reader.GravityValue(field.Value), reader.GravitySign.Length == 0 ? "F4" : "F2") + Figures.NoBreak + reader.FieldUnit("SG"),
            QuantityKind.Temperature => reader.Number(reader.FieldValue(field.Value, "°C"), "0.##") + Figures.NoBreak + reader.DegreeSign,
            _ => reader.Number(field.Value, "0.###") + Figures.NoBreak + SettingWords.Of(kept),
        };
        return $"{SettingWords.Of(quantity)} {value}";
    }
}
