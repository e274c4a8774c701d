using System.Globalization;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Care;

/// <summary>The words of health, backups and diagnostics, from <c>Texts/Care.resx</c>.</summary>
internal static class CareText
{
    private static readonly TextSource Source = new("Care");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>A stretch of time in its largest whole unit.</summary>
    public static string Length(TimeSpan length) => length switch
    {
        { TotalDays: >= 2 } => Number("length-days", length.TotalDays),
        { TotalHours: >= 2 } => Number("length-hours", length.TotalHours),
        { TotalMinutes: >= 2 } => Number("length-minutes", length.TotalMinutes),
        _ => Number("length-seconds", Math.Max(0, length.TotalSeconds)),
    };

    private static string Number(string key, double number) => Of(key, Math.Floor(number).ToString("0", CultureInfo.InvariantCulture));
}
