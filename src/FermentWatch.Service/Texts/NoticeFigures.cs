using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Texts;

/// <summary>Values of a notice with their units, as short as they can be read.</summary>
internal static class NoticeFigures
{
    private static readonly CultureInfo Plain = CultureInfo.InvariantCulture;

    public static string Of(ReasonValue value, Reader reader, ReceivedAt now, int longestName) => value switch
    {
        ReasonValue.Name name => Shortened(Printable(name.Text), longestName),
        ReasonValue.Filled filled => Shortened(Printable(FilledWords.Text(filled.Text, filled.Of, reader)), longestName),
        ReasonValue.Degrees degrees => (degrees.IsDifference ? reader.BareDegreesApart(degrees.Celsius) : reader.BareDegrees(degrees.Celsius)) + " " + reader.DegreeSign,
        ReasonValue.Moment moment => Moment(moment.At.ToDateTimeOffset(), reader.Zone, now.ToDateTimeOffset()),
        ReasonValue.Length length => Length(length.Span),
        ReasonValue.Count count => Figures.Count(count.Number),
        ReasonValue.Gravity gravity => (gravity.IsDifference ? reader.GravityDifference(gravity.Ratio) : reader.Gravity(gravity.Ratio)).Replace(Figures.NoBreak, ' '),
        ReasonValue.Figure figure => reader.Number(figure.Value, "F" + figure.Digits.ToString(Plain)),
        ReasonValue.Odds odds => Words("figure-odds", Math.Clamp(odds.Probability, 0, 1) * 20),
        ReasonValue.Words words => Shortened(NoticeText.Of(words.Of, reader, now, longestName), NoticeText.LongestTitle),
        _ => throw new ArgumentOutOfRangeException(nameof(value), value, "A notice cannot show this value."),
    };

    /// <summary>Cuts at a whole letter and marks the cut.</summary>
    public static string Shortened(string text, int longest)
    {
        if (text.Length <= longest)
        {
            return text;
        }

        var end = 0;
        foreach (var start in StringInfo.ParseCombiningCharacters(text).Where(start => start <= longest - 1))
        {
            end = start;
        }

        return text[..end].TrimEnd() + "…";
    }

    private static string Printable(string text) => string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter)).Trim();

    private static string Length(TimeSpan span) => span.Duration() switch
    {
        { TotalSeconds: < 90 } length => Words("figure-seconds", length.TotalSeconds),
        { TotalMinutes: < 90 } length => Words("figure-minutes", length.TotalMinutes),
        { TotalHours: < 48 } length => Words("figure-hours", length.TotalHours),
        var length => Words("figure-days", length.TotalDays),
    };

    private static string Words(string key, double number) => NoticeText.Figure(key, Math.Round(number).ToString("0", Plain));

    /// <summary>'4:10 am (25 min ago)' within an hour and a half of sending, '4:10 am' on its day, 'Tue 4:10 am' within six days of it, else 'Oct 6 4:10 am'.</summary>
    private static string Moment(DateTimeOffset at, TimeZoneInfo zone, DateTimeOffset now)
    {
        var (local, today) = (TimeZoneInfo.ConvertTime(at, zone), TimeZoneInfo.ConvertTime(now, zone));
        var language = Language.Present;
        var clock = language.Clock(local, " ");
        var days = Math.Abs((today.Date - local.Date).Days);
        var minutes = (int)Math.Round((now - at).TotalMinutes);
        return minutes is >= 1 and < 90 ? NoticeText.Figure("figure-ago", clock, minutes.ToString(Plain)) : days == 0 ? clock : local.ToString(days <= 6 ? "ddd" : language.ShortDay.Replace(Figures.NoBreak, ' '), language.Culture) + " " + clock;
    }
}
