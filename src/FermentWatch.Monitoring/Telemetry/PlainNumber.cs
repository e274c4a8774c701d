using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Reads a number as devices write it: ASCII digits, one decimal point, a sign, an exponent; white space around it.</summary>
/// <remarks>
/// More generous than JSON (<c>+1.5</c>, <c>.5</c>, <c>1.</c> and <c>007</c> are read), stricter than a spreadsheet
/// (no comma, no digit grouping, no unit behind the number): every text is read in one way or not at all.
/// </remarks>
internal static class PlainNumber
{
    /// <summary>Longest number read, in characters.</summary>
    public const int Longest = 64;

    /// <summary>The number, or the reason why it is none.</summary>
    public static bool TryRead(ReadOnlySpan<char> text, out double number, [NotNullWhen(false)] out Reason? why)
    {
        number = 0;
        var digits = text.Trim(" \t\r\n");
        why = digits switch
        {
            { Length: 0 } => Reason.Of(DecodeReasons.NumberIsBlank),
            { Length: > Longest } => Reason.Of(DecodeReasons.NumberTooLong, new ReasonValue.Count(digits.Length)),
            _ when IsNotFinite(digits) => Reason.Of(DecodeReasons.NumberNotFinite, Quoted.Value(digits)),
            _ when IsPlain(digits, '.') => null,
            _ when IsPlain(digits, ',') => Reason.Of(
                DecodeReasons.NumberHasComma,
                Quoted.Value(digits),
                Quoted.Value(digits.ToString().Replace(',', '.'))),
            _ => Reason.Of(DecodeReasons.NumberNotPlain, Quoted.Value(digits)),
        };
        if (why is not null)
        {
            return false;
        }

        if (!double.TryParse(digits, NumberStyles.Float, CultureInfo.InvariantCulture, out number) || !double.IsFinite(number))
        {
            why = Reason.Of(DecodeReasons.NumberNotFinite, Quoted.Value(digits));
            return false;
        }

        return true;
    }

    /// <summary>The spellings of not-a-number and infinity that C, JavaScript and Python print.</summary>
    public static bool IsNotFinite(ReadOnlySpan<char> text)
    {
        var word = text.Length > 0 && (text[0] is '+' or '-') ? text[1..] : text;
        return word.Equals("nan", StringComparison.OrdinalIgnoreCase)
            || word.Equals("inf", StringComparison.OrdinalIgnoreCase)
            || word.Equals("infinity", StringComparison.OrdinalIgnoreCase);
    }

    private static bool IsPlain(ReadOnlySpan<char> text, char point)
    {
        var at = text[0] is '+' or '-' ? 1 : 0;
        var whole = Digits(text, ref at);
        var fraction = 0;
        if (at < text.Length && text[at] == point)
        {
            at++;
            fraction = Digits(text, ref at);
        }

        if (whole + fraction == 0)
        {
            return false;
        }

        if (at < text.Length && (text[at] is 'e' or 'E'))
        {
            at++;
            at += at < text.Length && (text[at] is '+' or '-') ? 1 : 0;
            if (Digits(text, ref at) == 0)
            {
                return false;
            }
        }

        return at == text.Length;
    }

    private static int Digits(ReadOnlySpan<char> text, ref int at)
    {
        var start = at;
        while (at < text.Length && char.IsAsciiDigit(text[at]))
        {
            at++;
        }

        return at - start;
    }
}
