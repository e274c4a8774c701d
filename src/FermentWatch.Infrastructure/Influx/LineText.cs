using System.Globalization;
using System.Text;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>Writes one point in line protocol: <c>measurement,tag=value field=value time</c>.</summary>
/// <remarks>
/// <para>Source: the reference of the line protocol in the documentation of InfluxDB 2 (naming, escaping, kinds of fields).</para>
/// <para>The protocol cannot hold everything: no tag ends with a backslash, and a line ends at a line feed. Such characters are written as
/// a percent sign and the two hexadecimal digits of each byte of their UTF-8, as in RFC 3986, and so is a percent sign that two such
/// digits follow; everything else stays as it is.</para>
/// </remarks>
public sealed class LineText
{
    private readonly StringBuilder _line = new();
    private bool _hasField;

    /// <summary>Begins a point.</summary>
    /// <param name="measurement">A name of ours: letters, digits and underscores.</param>
    public LineText(string measurement) => _line.Append(measurement);

    /// <summary>Adds a tag; one without a value is left out, since the protocol has none.</summary>
    public LineText Tag(string key, string? value)
    {
        if (!string.IsNullOrEmpty(value))
        {
            _line.Append(',').Append(key).Append('=');
            foreach (var character in Guarded(value, isTag: true))
            {
                _line.Append(character is ',' or '=' or ' ' ? "\\" : string.Empty).Append(character);
            }
        }

        return this;
    }

    /// <summary>Adds a number; null and what is not finite is left out.</summary>
    public LineText Field(string key, double? value) =>
        value is { } number && double.IsFinite(number) ? Add(key, number.ToString("R", CultureInfo.InvariantCulture)) : this;

    /// <summary>Adds a whole number.</summary>
    public LineText Field(string key, long value) => Add(key, value.ToString(CultureInfo.InvariantCulture) + "i");

    /// <summary>Adds a flag as 1 or 0, so that it can be summed.</summary>
    public LineText Field(string key, bool value) => Field(key, value ? 1L : 0L);

    /// <summary>Adds a text; null is left out.</summary>
    public LineText Field(string key, string? value) => value is null
        ? this
        : Add(key, $"\"{Guarded(value, isTag: false).Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"");

    /// <summary>Ends the line; null when it has no field, and so says nothing.</summary>
    /// <param name="unixNanoseconds">Time of the point.</param>
    public string? At(long unixNanoseconds) =>
        _hasField ? _line.Append(' ').Append(unixNanoseconds.ToString(CultureInfo.InvariantCulture)).ToString() : null;

    /// <summary>Takes back what was written for characters that the protocol cannot hold.</summary>
    public static string Unguarded(string value)
    {
        ArgumentNullException.ThrowIfNull(value);
        var bytes = new List<byte>();
        var text = new StringBuilder();
        for (var at = 0; at < value.Length; at++)
        {
            if (IsGuard(value, at))
            {
                bytes.Add(byte.Parse(value.AsSpan(at + 1, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture));
                at += 2;
                continue;
            }

            text.Append(Encoding.UTF8.GetString([.. bytes])).Append(value[at]);
            bytes.Clear();
        }

        return text.Append(Encoding.UTF8.GetString([.. bytes])).ToString();
    }

    private static string Guarded(string value, bool isTag)
    {
        // A half of a pair is no character and cannot be sent: it becomes the replacement mark.
        var whole = Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(value));
        var text = new StringBuilder(whole.Length);
        for (var at = 0; at < whole.Length; at++)
        {
            var character = whole[at];
            var isUnheld = char.IsControl(character) || (isTag && character == '\\' && at == whole.Length - 1) || IsGuard(whole, at);
            if (!isUnheld)
            {
                text.Append(character);
                continue;
            }

            foreach (var one in Encoding.UTF8.GetBytes([character]))
            {
                text.Append(CultureInfo.InvariantCulture, $"%{one:X2}");
            }
        }

        return text.ToString();
    }

    private static bool IsGuard(string text, int at) =>
        text[at] == '%' && at + 2 < text.Length && char.IsAsciiHexDigit(text[at + 1]) && char.IsAsciiHexDigit(text[at + 2]);

    private LineText Add(string key, string value)
    {
        _line.Append(_hasField ? ',' : ' ').Append(key).Append('=').Append(value);
        _hasField = true;
        return this;
    }
}
