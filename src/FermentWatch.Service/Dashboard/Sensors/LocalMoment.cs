using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>Moments as a form's field for date and time writes them, on the reader's clock.</summary>
internal static class LocalMoment
{
    private static readonly string[] Formats = ["yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd'T'HH:mm:ss.fff"];

    /// <summary>The field's text for a moment, to the minute.</summary>
    public static string Write(EventTime time, Reader reader) => reader.Local(time).ToString(Formats[0], CultureInfo.InvariantCulture);

    /// <summary>The moment that was typed; false for anything that is no date with a time.</summary>
    public static bool TryRead(string typed, Reader reader, out EventTime time)
    {
        time = default;
        if (!DateTime.TryParseExact(typed, Formats, CultureInfo.InvariantCulture, DateTimeStyles.None, out var local) || local.Year < 2000)
        {
            return false;
        }

        var valid = reader.Zone.IsInvalidTime(local) ? local.AddHours(1) : local;
        time = EventTime.From(new DateTimeOffset(valid, reader.Zone.GetUtcOffset(valid)));
        return true;
    }
}
