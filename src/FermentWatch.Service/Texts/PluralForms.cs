using System.Globalization;

namespace FermentWatch.Service.Texts;

/// <summary>Puts values into texts. A value with two words behind its number, <c>{0} {0:row|rows}</c>, takes the first where the language counts it as one.</summary>
/// <remarks>Rules of the languages' plurals by the Unicode CLDR: in English and German only 1 is one; in French everything below 2, none included.</remarks>
internal sealed class PluralForms : IFormatProvider, ICustomFormatter
{
    /// <summary>The forms of the language that is being spoken when a text is put together.</summary>
    public static PluralForms Present { get; } = new();

    /// <inheritdoc/>
    public object? GetFormat(Type? formatType) => formatType == typeof(ICustomFormatter) ? this : CultureInfo.InvariantCulture.GetFormat(formatType);

    /// <inheritdoc/>
    public string Format(string? format, object? arg, IFormatProvider? formatProvider)
    {
        if (format?.IndexOf('|', StringComparison.Ordinal) is not (>= 0 and var bar))
        {
            return arg is IFormattable formattable ? formattable.ToString(format, CultureInfo.InvariantCulture) : arg?.ToString() ?? string.Empty;
        }

        return Number(arg) is { } number && Language.Present.CountsAsOne(number) ? format[..bar] : format[(bar + 1)..];
    }

    // A figure may come as it was written for the reader, with thin spaces between thousands and a comma for the point.
    private static decimal? Number(object? value) => value switch
    {
        string text => decimal.TryParse(string.Concat(text.Where(letter => !char.IsWhiteSpace(letter))).Replace(',', '.'), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) ? number : null,
        IConvertible number => number.ToDecimal(CultureInfo.InvariantCulture),
        _ => null,
    };
}
