using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>A sentence or a part of one with its words and its values apart, so that another language can put its own words around the same values. <see cref="ToString"/> is the English sentence.</summary>
/// <remarks>Written as an interpolated string. A value may be a number, an <see cref="Amount"/>, the name of a field, a choice, a phrase of its own, or a text that stays as it is.</remarks>
[InterpolatedStringHandler]
public sealed class Phrase : IEquatable<Phrase>
{
    private readonly StringBuilder _template;
    private readonly List<PhraseValue> _values = [];

    /// <summary>Begins an interpolated string; called by the compiler.</summary>
    public Phrase(int literalLength, int formattedCount) => _template = new StringBuilder(literalLength + (3 * formattedCount));

    private Phrase(string words) => _template = new StringBuilder(Escaped(words));

    /// <summary>The English words with {0}, {1} where the values stand; a composite format string, which is also its key among the translations.</summary>
    public string Template => _template.ToString();

    /// <summary>The values in the order of their places.</summary>
    public IReadOnlyList<PhraseValue> Values => _values;

    /// <summary>Words without a value.</summary>
    public static implicit operator Phrase(string words) => FromString(words);

    /// <summary>Words without a value.</summary>
    public static Phrase FromString(string words) => new(words);

    /// <summary>Phrases one behind the other.</summary>
    /// <param name="separator">What stands between them; not translated.</param>
    /// <param name="parts">The phrases.</param>
    public static Phrase Joined(string separator, IEnumerable<Phrase> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var all = new Phrase(0, 0);
        foreach (var part in parts)
        {
            if (all._values.Count > 0)
            {
                all.AppendLiteral(separator);
            }

            all.AppendFormatted(part);
        }

        return all;
    }

    /// <summary>Words of the sentence; called by the compiler.</summary>
    public void AppendLiteral(string value) => _template.Append(Escaped(value));

    /// <summary>A value of the sentence; called by the compiler.</summary>
    public void AppendFormatted<T>(T value, string? format = null)
        where T : notnull
    {
        _template.Append('{').Append(_values.Count.ToString(CultureInfo.InvariantCulture)).Append('}');
        _values.Add(new PhraseValue(value, format));
    }

    /// <summary>The sentence in English, with numbers as the invariant culture writes them.</summary>
    public override string ToString() => string.Format(CultureInfo.InvariantCulture, Template, [.. _values.Select(value => (object)value.ToString())]);

    /// <inheritdoc/>
    public bool Equals(Phrase? other) => other is not null && ToString() == other.ToString();

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as Phrase);

    /// <inheritdoc/>
    public override int GetHashCode() => ToString().GetHashCode(StringComparison.Ordinal);

    private static string Escaped(string words) => words.Replace("{", "{{", StringComparison.Ordinal).Replace("}", "}}", StringComparison.Ordinal);
}

/// <summary>A value in a phrase.</summary>
/// <param name="Value">A number, an <see cref="Amount"/>, a <see cref="FieldName"/>, a <see cref="Choice"/>, a <see cref="Phrase"/> or a text.</param>
/// <param name="Format">Digits of a number or an amount, such as "0.0"; null for all it has.</param>
public sealed record PhraseValue(object Value, string? Format)
{
    /// <summary>The value as the English sentence shows it.</summary>
    public override string ToString() => Value is IFormattable number ? number.ToString(Format, CultureInfo.InvariantCulture) : Value.ToString() ?? string.Empty;
}

/// <summary>A number with its unit in a phrase; a shell can write it in the reader's own unit.</summary>
/// <param name="Value">In <paramref name="Unit"/>.</param>
/// <param name="Unit">Symbol of the unit; empty for a plain number.</param>
/// <param name="Kind">What it measures where a field said so; null for the symbol alone.</param>
/// <param name="IsBare">Whether the English sentence leaves the unit out.</param>
public readonly record struct Amount(double Value, string Unit, QuantityKind? Kind = null, bool IsBare = false) : IFormattable
{
    /// <summary>A value of a field with the unit that its kind keeps.</summary>
    public static Amount Of(double kept, QuantityKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return new(kept, kind.Symbol, kind);
    }

    /// <inheritdoc/>
    public override string ToString() => ToString(null, CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public string ToString(string? format, IFormatProvider? formatProvider)
    {
        var number = Value.ToString(format, formatProvider);
        return IsBare || Unit.Length == 0 ? number : number + " " + Unit;
    }
}

/// <summary>The name of a field in a phrase: its key in English, its label on a page.</summary>
/// <param name="Key">Key of the field.</param>
public readonly record struct FieldName(string Key)
{
    /// <inheritdoc/>
    public override string ToString() => Key;
}
