using System.Globalization;
using System.Text;

namespace FermentWatch.Service.Calendar;

/// <summary>Writes content lines of a calendar as RFC 5545 has them.</summary>
public static class CalendarText
{
    /// <summary>Most octets of a line without its end (RFC 5545, section 3.1).</summary>
    public const int LongestLine = 75;

    /// <summary>A value of type TEXT (section 3.3.11): backslash, semicolon, comma and line end escaped; other control characters are left out.</summary>
    public static string Escaped(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var escaped = new StringBuilder(text.Length);
        foreach (var letter in text.ReplaceLineEndings("\n"))
        {
            _ = letter switch
            {
                '\\' or ';' or ',' => escaped.Append('\\').Append(letter),
                '\n' => escaped.Append("\\n"),
                '\t' => escaped.Append(letter),
                _ when char.IsControl(letter) => escaped,
                _ => escaped.Append(letter),
            };
        }

        return escaped.ToString();
    }

    /// <summary>A time in UTC (section 3.3.5, form 2).</summary>
    public static string Utc(DateTimeOffset time) => time.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);

    /// <summary>A content line with its end, folded at 75 octets and never within a character: a continuation begins with a space.</summary>
    public static string Folded(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        var folded = new StringBuilder(line.Length + 8);
        var octets = 0;
        foreach (var rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > LongestLine)
            {
                folded.Append("\r\n ");
                octets = 1;
            }

            folded.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }

        return folded.Append("\r\n").ToString();
    }
}
