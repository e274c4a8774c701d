using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Dates and times in the reader's zone and figures in the reader's units, in the reader's language. Month and day never part at a line end.</summary>
/// <param name="zone">The reader's zone.</param>
/// <param name="units">The reader's units and decimal mark; null for the usual ones.</param>
/// <param name="language">The reader's language; null for English.</param>
public sealed partial class Reader(TimeZoneInfo zone, Units? units = null, Language? language = null)
{
    /// <summary>The reader's language.</summary>
    public Language Language { get; } = language ?? Language.English;

    private CultureInfo Culture => Language.Culture;

    /// <summary>The reader's zone.</summary>
    public TimeZoneInfo Zone { get; } = zone;

    /// <summary>The instant on the reader's clock.</summary>
    public DateTimeOffset Local(DateTimeOffset time) => TimeZoneInfo.ConvertTime(time, Zone);

    /// <summary>The instant on the reader's clock.</summary>
    public DateTimeOffset Local(EventTime time) => Local(time.ToDateTimeOffset());

    /// <summary>Date on the reader's calendar.</summary>
    public DateOnly DateOf(EventTime time) => DateOnly.FromDateTime(Local(time).DateTime);

    /// <summary>Start of a day on the reader's calendar.</summary>
    public EventTime StartOf(DateOnly date)
    {
        var midnight = date.ToDateTime(TimeOnly.MinValue);
        // Where a clock change skips midnight the day begins an hour later.
        var valid = Zone.IsInvalidTime(midnight) ? midnight.AddHours(1) : midnight;
        return EventTime.From(new DateTimeOffset(valid, Zone.GetUtcOffset(valid)));
    }

    /// <summary>'Thursday, October 22'.</summary>
    public string LongDay(DateTimeOffset time) => Local(time).ToString(Language.LongDay, Culture);

    /// <summary>'Thursday, October 22'.</summary>
    public string LongDay(EventTime time) => LongDay(time.ToDateTimeOffset());

    /// <summary>'Sunday 18' in the month of <paramref name="beside"/>, else 'Sunday, November 1', with the year where that is another.</summary>
    public string DayBeside(EventTime time, EventTime beside)
    {
        return SameMonth(time, beside) ? Local(time).ToString(Language.DayOfMonth, Culture) : DayInFull(time, beside);
    }

    /// <summary>'Sunday, November 1', with the year where it is another than that of <paramref name="beside"/>.</summary>
    public string DayInFull(EventTime time, EventTime beside) => Local(time).Year == Local(beside).Year
        ? LongDay(time)
        : Local(time).ToString(Language.LongDayOfYear, Culture);

    /// <summary>Whether two times lie in one month of one year, on the reader's calendar.</summary>
    public bool SameMonth(EventTime one, EventTime other) => (Local(one).Year, Local(one).Month) == (Local(other).Year, Local(other).Month);

    /// <summary>'Oct 22'.</summary>
    public string ShortDay(EventTime time) => Local(time).ToString(Language.ShortDay, Culture);

    /// <summary>'October 22'.</summary>
    public string MonthDay(EventTime time) => Local(time).ToString(Language.MonthDay, Culture);

    /// <summary>'4:10 am'.</summary>
    public string Clock(DateTimeOffset time) => Language.Clock(Local(time), Figures.NoBreak.ToString());

    /// <summary>'Oct 22, 2026'.</summary>
    public string DayOfYear(EventTime time) => Local(time).ToString(Language.ShortDayOfYear, Culture);

    /// <summary>'Oct 6, 4:10 am'.</summary>
    public string Moment(DateTimeOffset time) => Local(time).ToString(Language.ShortDay, Culture) + ", " + Clock(time);

    /// <summary>'Oct 6, 4:10 am'.</summary>
    public string Moment(EventTime time) => Moment(time.ToDateTimeOffset());

    /// <summary>'4 min ago', or 'now' for less than ten seconds and for anything in the future.</summary>
    public static string Ago(TimeSpan since) =>
        since < TimeSpan.FromSeconds(10) ? PageText.Of("ago-now") : PageText.Of("ago", Figures.Length(since));
}
