using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Dates and times in a form, on the reader's clock.</summary>
internal static class LocalTime
{
    private static readonly string[] Formats = ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss"];

    /// <summary>As a browser's field for date and time wants it.</summary>
    public static string Typed(EventTime time, Reader reader) => reader.Local(time).ToString(Formats[0], CultureInfo.InvariantCulture);

    /// <summary>The instant, or null when it is none or not in this century. An hour that a clock change skips counts as the one after.</summary>
    public static EventTime? Read(string text, Reader reader)
    {
        if (!DateTime.TryParseExact(text, Formats, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local) || local.Year is < 2000 or > 2099)
        {
            return null;
        }

        var valid = reader.Zone.IsInvalidTime(local) ? local.AddHours(1) : local;
        return EventTime.From(new DateTimeOffset(valid, reader.Zone.GetUtcOffset(valid)));
    }
}
