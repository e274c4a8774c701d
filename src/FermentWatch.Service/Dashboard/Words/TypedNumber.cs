using System.Globalization;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Why a typed text is no number.</summary>
public enum TypedFault
{
    /// <summary>It is one.</summary>
    None = 0,

    /// <summary>Nothing was typed.</summary>
    Empty = 1,

    /// <summary>More than one decimal mark: no separator of thousands is read.</summary>
    TwoMarks = 2,

    /// <summary>Something else than digits, one mark and a sign.</summary>
    NotPlain = 3,

    /// <summary>More than 30 characters.</summary>
    TooLong = 4,

    /// <summary>'1,500' where the mark is a point: it could be meant as fifteen hundred.</summary>
    MaybeThousands = 5,
}

/// <summary>Reads a number as a person types it.</summary>
public static class TypedNumber
{
    private const int Longest = 30;

    /// <summary>Reads digits with at most one decimal mark and a sign. Point and comma both count as the mark where nothing else can be meant: separators of thousands are never read.</summary>
    /// <param name="text">As typed; white space around it does not matter.</param>
    /// <param name="mark">The reader's mark. Where it is a point, one to three digits, a comma and three digits are refused; where it is a comma, '1.012' is 1.012, as hydrometers are written all over the world.</param>
    /// <param name="number">The number; 0 when there is none.</param>
    /// <param name="fault">Why there is none.</param>
    public static bool TryRead(string? text, DecimalMark mark, out double number, out TypedFault fault)
    {
        number = 0;
        var plain = (text ?? "").Trim().Replace('\u2212', '-');
        var body = plain.Length > 0 && plain[0] is '-' or '+' ? plain[1..] : plain;
        fault = plain.Length == 0 ? TypedFault.Empty
            : plain.Length > Longest ? TypedFault.TooLong
            : body.Count(letter => letter is '.' or ',') > 1 ? TypedFault.TwoMarks
            : !body.Any(char.IsAsciiDigit) || body.Any(letter => !char.IsAsciiDigit(letter) && letter is not ('.' or ',')) ? TypedFault.NotPlain
            : mark == DecimalMark.Point && body.IndexOf(',') is >= 1 and <= 3 && body.Length - body.IndexOf(',') == 4 && body[0] != '0' ? TypedFault.MaybeThousands
            : TypedFault.None;
        if (fault != TypedFault.None)
        {
            return false;
        }

        number = double.Parse(plain.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
        return true;
    }
}

/// <summary>A quantity read from what was typed, or the sentence that says what would be right.</summary>
/// <typeparam name="T">The quantity.</typeparam>
/// <param name="Value">The quantity; null when there is none.</param>
/// <param name="Fault">The sentence; null when there is a value.</param>
public sealed record Typed<T>(T? Value, string? Fault)
    where T : struct;
