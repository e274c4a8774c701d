namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Reads a date and time with its offset from UTC.</summary>
/// <remarks>
/// <para>YYYY-MM-DD, then T, t or one space, hh:mm, optional :ss with a fraction of any length (cut to microseconds), then Z, z, ±hh:mm, ±hhmm or ±hh.
/// A leap second counts as the first of the next minute.</para>
/// <para><b>Source.</b> RFC 3339 section 5.6 with its notes, and the short offsets and the omitted seconds of ISO 8601-1:2019.</para>
/// </remarks>
public static class IsoTime
{
    internal const double FirstMicrosecond = -62135596800e6;
    internal const double LastMicrosecond = 253402300799e6;

    /// <summary>The instant; null when it cannot be read, and then <paramref name="code"/> is one of <see cref="DecodeReasons"/>.</summary>
    public static EventTime? Read(ReadOnlySpan<char> text, out string? code)
    {
        code = DecodeReasons.TimeUnreadable;
        text = text.Trim();
        if (text.Length < 16
            || !TryDigits(text[..4], out var year) || text[4] != '-'
            || !TryDigits(text[5..7], out var month) || text[7] != '-'
            || !TryDigits(text[8..10], out var day) || text[10] is not ('T' or 't' or ' ')
            || !TryDigits(text[11..13], out var hour) || text[13] != ':'
            || !TryDigits(text[14..16], out var minute)
            || year < 1 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month) || hour > 23 || minute > 59)
        {
            return null;
        }

        var rest = text[16..];
        if (!TrySeconds(ref rest, out var microseconds) || !TryOffset(rest, out var offsetMinutes, out var missing))
        {
            return null;
        }

        if (missing)
        {
            code = DecodeReasons.TimeWithoutOffset;
            return null;
        }

        var days = new DateOnly(year, month, day).DayNumber - DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber;
        var minutes = (((days * 24L) + hour) * 60) + minute - offsetMinutes;
        var total = (minutes * 60_000_000L) + microseconds;
        if (total < FirstMicrosecond || total > LastMicrosecond)
        {
            code = DecodeReasons.TimeOutOfRange;
            return null;
        }

        code = null;
        return new EventTime(total);
    }

    private static bool TrySeconds(ref ReadOnlySpan<char> rest, out long microseconds)
    {
        microseconds = 0;
        if (rest.Length == 0 || rest[0] != ':')
        {
            return true;
        }

        if (rest.Length < 3 || !TryDigits(rest[1..3], out var seconds) || seconds > 60)
        {
            return false;
        }

        microseconds = seconds * 1_000_000L;
        rest = rest[3..];
        if (rest.Length > 0 && (rest[0] is '.' or ','))
        {
            var scale = 100_000L;
            var at = 1;
            for (; at < rest.Length && char.IsAsciiDigit(rest[at]); at++)
            {
                microseconds += (rest[at] - '0') * scale;
                scale /= 10;
            }

            rest = rest[at..];
            return at > 1;
        }

        return true;
    }

    private static bool TryOffset(ReadOnlySpan<char> rest, out int minutes, out bool missing)
    {
        minutes = 0;
        missing = rest.IsEmpty;
        if (missing || rest is "Z" or "z")
        {
            return true;
        }

        if (rest[0] is not ('+' or '-'))
        {
            return false;
        }

        var digits = rest[1..];
        var offsetMinutes = 0;
        var read = digits.Length switch
        {
            2 => TryDigits(digits, out minutes),
            4 => TryDigits(digits[..2], out minutes) && TryDigits(digits[2..], out offsetMinutes),
            5 => digits[2] == ':' && TryDigits(digits[..2], out minutes) && TryDigits(digits[3..], out offsetMinutes),
            _ => false,
        };
        var wellFormed = read && minutes <= 23 && offsetMinutes <= 59;
        minutes = ((minutes * 60) + offsetMinutes) * (rest[0] == '-' ? -1 : 1);
        return wellFormed;
    }

    private static bool TryDigits(ReadOnlySpan<char> text, out int number)
    {
        number = 0;
        foreach (var digit in text)
        {
            if (!char.IsAsciiDigit(digit))
            {
                return false;
            }

            number = (number * 10) + digit - '0';
        }

        return true;
    }
}
