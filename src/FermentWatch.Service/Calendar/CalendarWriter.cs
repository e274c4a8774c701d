using System.Globalization;
using System.Text;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Calendar;

/// <summary>Writes dated next acts as a calendar (RFC 5545), times in UTC.</summary>
public static class CalendarWriter
{
    /// <summary>The calendar: an event of a quarter of an hour for each act, with what to do and its caution.</summary>
    /// <param name="acts">Acts as they are shown.</param>
    /// <param name="reader">Units and decimal mark of the words.</param>
    /// <param name="root">Root of the pages as others reach it, for links; null leaves them out.</param>
    /// <param name="now">When it is written.</param>
    public static string Write(IEnumerable<CalendarAct> acts, Reader reader, Uri? root, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(acts);
        var text = new StringBuilder();
        void Line(string line) => text.Append(CalendarText.Folded(line));
        Line("BEGIN:VCALENDAR");
        Line("VERSION:2.0");
        Line("PRODID:-//FermentWatch//Next acts//EN");
        Line("CALSCALE:GREGORIAN");
        // RFC 7986: what it is called, and how often it is worth asking for.
        Line("NAME:" + CalendarText.Escaped(CalendarWords.Of("name")));
        Line("REFRESH-INTERVAL;VALUE=DURATION:PT1H");
        foreach (var (batch, act, uid, sequence) in acts)
        {
            var due = ReceivedAt.From(act.DueAt.ToDateTimeOffset());
            Line("BEGIN:VEVENT");
            Line($"UID:{uid}");
            Line(string.Create(CultureInfo.InvariantCulture, $"SEQUENCE:{sequence}"));
            Line("DTSTAMP:" + CalendarText.Utc(now));
            Line("DTSTART:" + CalendarText.Utc(act.DueAt.ToDateTimeOffset()));
            Line("DURATION:PT15M");
            Line("SUMMARY:" + CalendarText.Escaped(NoticeText.Of(act.Words.Title, reader, due)));
            Line("DESCRIPTION:" + CalendarText.Escaped(string.Join(' ', act.Words.Body.Select(sentence => NoticeText.Of(sentence, reader, due)))));
            Line("TRANSP:TRANSPARENT");
            if (root is not null)
            {
                Line("URL:" + new Uri(root, "batch/" + Uri.EscapeDataString(batch.Value)).AbsoluteUri);
            }

            Line("END:VEVENT");
        }

        Line("END:VCALENDAR");
        return text.ToString();
    }
}

/// <summary>The words about the calendar, from <c>Texts/Calendar.resx</c>.</summary>
public static class CalendarWords
{
    private static readonly TextSource Source = new("Calendar");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
