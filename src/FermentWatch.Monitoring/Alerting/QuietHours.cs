using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Hours of the reader's night, by the wall clock of a zone: right across midnight and across clock changes.</summary>
/// <param name="From">Begin. A time that the clock shows twice begins at its first showing.</param>
/// <param name="Until">End, exclusive. A time that the clock shows twice ends at its second showing, so that a night is never cut short.
/// A time that the clock skips is the moment of the skip. Equal to <paramref name="From"/>: no quiet hours.</param>
public sealed record QuietHours(TimeOnly From, TimeOnly Until)
{
    /// <summary>22:00 to 08:00.</summary>
    public static QuietHours Default { get; } = new(new TimeOnly(22, 0), new TimeOnly(8, 0));

    /// <summary>The end of the quiet hours in which <paramref name="now"/> lies, or null when it lies in none.</summary>
    public ReceivedAt? EndOf(ReceivedAt now, TimeZoneInfo zone)
    {
        if (From == Until)
        {
            return null;
        }

        var utc = now.ToDateTimeOffset().UtcDateTime;
        var today = TimeZoneInfo.ConvertTimeFromUtc(utc, zone).Date;
        for (var day = -1; day <= 0; day++)
        {
            var evening = today.AddDays(day);
            var from = FirstShowing(evening + From.ToTimeSpan(), zone);
            var until = LastShowing(evening.AddDays(Until < From ? 1 : 0) + Until.ToTimeSpan(), zone);
            if (from <= utc && utc < until)
            {
                return ReceivedAt.From(new DateTimeOffset(until, TimeSpan.Zero));
            }
        }

        return null;
    }

    /// <summary>The moment at which the wall clock of a zone shows a time: the second showing of one that is shown twice, the moment of the skip for one that is skipped.</summary>
    public static ReceivedAt MomentOf(DateTime local, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        return ReceivedAt.From(new DateTimeOffset(LastShowing(local, zone), TimeSpan.Zero));
    }

    private static DateTime FirstShowing(DateTime local, TimeZoneInfo zone) =>
        zone.IsAmbiguousTime(local) ? Utc(local, zone.GetAmbiguousTimeOffsets(local).Max()) : OnlyShowing(local, zone);

    private static DateTime LastShowing(DateTime local, TimeZoneInfo zone) =>
        zone.IsAmbiguousTime(local) ? Utc(local, zone.GetAmbiguousTimeOffsets(local).Min()) : OnlyShowing(local, zone);

    private static DateTime OnlyShowing(DateTime local, TimeZoneInfo zone)
    {
        if (!zone.IsInvalidTime(local))
        {
            return Utc(local, zone.GetUtcOffset(local));
        }

        // Skipped: the first existing minute after it is the moment of the skip, as every skip ends on a whole minute.
        var next = new DateTime(local.Year, local.Month, local.Day, local.Hour, local.Minute, 0, DateTimeKind.Unspecified);
        while (zone.IsInvalidTime(next))
        {
            next = next.AddMinutes(1);
        }

        return Utc(next, zone.GetUtcOffset(next));
    }

    private static DateTime Utc(DateTime local, TimeSpan offset) => DateTime.SpecifyKind(local - offset, DateTimeKind.Utc);
}
