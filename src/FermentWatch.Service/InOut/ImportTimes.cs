using System.Globalization;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.InOut;

/// <summary>Reads the times of a file in order; an hour that the clock went through twice is told apart by what came before.</summary>
/// <param name="style">How they are written.</param>
/// <param name="zone">Zone of times without an offset.</param>
internal sealed partial class ImportTimes(DateStyle style, TimeZoneInfo zone)
{
    private EventTime? _last;

    /// <summary>The time, or null and why not: the key of a text.</summary>
    public EventTime? Read(string text, out string? fault)
    {
        var time = style is DateStyle.UnixSeconds or DateStyle.UnixMilliseconds ? Count(text, out fault) : Written(text, out fault);
        if (time is { } at && at.ToDateTimeOffset().Year is < 2000 or >= 2100)
        {
            fault = "refused-year";
            return null;
        }

        _last = time ?? _last;
        return time;
    }

    /// <summary>Whether the text is a date and a time in this style.</summary>
    public static bool Looks(string text, DateStyle style) => new ImportTimes(style, TimeZoneInfo.Utc).Read(text, out _) is not null;

    /// <summary>Whether the text is a date alone.</summary>
    public static bool LooksLikeDate(string text, DateStyle style) => !text.Contains(':', StringComparison.Ordinal) && Looks(text + " 00:00", style);

    /// <summary>Whether the text is a time of day alone.</summary>
    public static bool LooksLikeClock(string text) => Looks("2001-01-01 " + text, DateStyle.YearFirst) && !Looks(text, DateStyle.YearFirst);

    private EventTime? Count(string text, out string? fault)
    {
        fault = "refused-time";
        if (!double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var count) || Math.Abs(count) > 1e14)
        {
            return null;
        }

        fault = null;
        var microseconds = Math.Round(count * (style == DateStyle.UnixSeconds ? 1e6 : 1e3));
        if (Math.Abs(microseconds) < 4e15)
        {
            return new EventTime((long)microseconds);
        }

        fault = "refused-year";
        return null;
    }

    private EventTime? Written(string text, out string? fault)
    {
        fault = null;
        if (style == DateStyle.YearFirst && IsoTime.Read(text, out _) is { } whole)
        {
            return whole;
        }

        fault = "refused-time";
        if (Pattern().Match(text) is not { Success: true } match)
        {
            return null;
        }

        int Part(string group) => int.Parse(match.Groups[group].ValueSpan, CultureInfo.InvariantCulture);
        var (first, second, third) = (Part("a"), Part("b"), Part("c"));
        var (year, month, day) = style switch
        {
            DateStyle.YearFirst => (first, second, third),
            DateStyle.DayFirst => (third, second, first),
            _ => (third, first, second),
        };
        var half = match.Groups["half"].Value;
        var hour = Part("h");
        var (minute, secondOfMinute) = (Part("m"), match.Groups["s"].Success ? Part("s") : 0);
        if (half.Length > 0)
        {
            hour = hour is < 1 or > 12 ? 99 : (hour % 12) + (half[0] is 'p' or 'P' ? 12 : 0);
        }

        if (year is < 1000 or > 9998 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month) || hour > 23 || minute > 59 || secondOfMinute > 59)
        {
            return null;
        }

        var fraction = match.Groups["f"].Success ? double.Parse("0." + match.Groups["f"].Value, CultureInfo.InvariantCulture) : 0;
        var local = new DateTime(year, month, day, hour, minute, secondOfMinute, DateTimeKind.Unspecified).AddTicks((long)(fraction * TimeSpan.TicksPerSecond));
        if (zone.IsInvalidTime(local))
        {
            fault = "refused-skipped-hour";
            return null;
        }

        fault = null;
        return Placed(local);
    }

    private EventTime Placed(DateTime local)
    {
        if (!zone.IsAmbiguousTime(local))
        {
            return EventTime.From(new DateTimeOffset(local, zone.GetUtcOffset(local)));
        }

        // The larger offset is the first time round.
        var offsets = zone.GetAmbiguousTimeOffsets(local).OrderDescending().ToList();
        var firstRound = EventTime.From(new DateTimeOffset(local, offsets[0]));
        return _last is { } last && firstRound < last ? EventTime.From(new DateTimeOffset(local, offsets[^1])) : firstRound;
    }

    [GeneratedRegex(@"^\s*(?<a>\d{1,4})[-/.](?<b>\d{1,2})[-/.](?<c>\d{1,4})(?:\s*[T,]\s*|\s+)(?<h>\d{1,2}):(?<m>\d{2})(?::(?<s>\d{2})(?:[.,](?<f>\d{1,9}))?)?\s*(?<half>[AaPp]\.?[Mm]\.?)?\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex Pattern();
}
