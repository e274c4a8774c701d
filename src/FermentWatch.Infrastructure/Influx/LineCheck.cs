using System.Globalization;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>A point as a line says it.</summary>
/// <param name="Measurement">Its measurement.</param>
/// <param name="Tags">Tags in the order of the line.</param>
/// <param name="Fields">Fields: a double, a long, a bool or a string each.</param>
/// <param name="UnixNanoseconds">Its time.</param>
public sealed record LinePoint(
    string Measurement, IReadOnlyList<KeyValuePair<string, string>> Tags, IReadOnlyList<KeyValuePair<string, object>> Fields, long UnixNanoseconds);

/// <summary>
/// Reads a line as a server does, before one is asked: some take what is malformed without a word and keep something else.
/// Stricter than the protocol where we never write what it allows: a time is needed, and so is a value of each tag.
/// </summary>
public static class LineCheck
{
    /// <summary>Longest line that servers are known to take. [characters] InfluxDB 1 takes 64 KiB; from memory.</summary>
    public const int Longest = 64 * 1024;

    // Times that InfluxDB can hold: the lowest two of 64 bits mean something else there.
    private const long LowestTime = long.MinValue + 2;

    /// <summary>The point, or why the line is none.</summary>
    public static (LinePoint? Point, string? Problem) Read(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        if (line.Length > Longest)
        {
            return (null, $"longer than {Longest} characters");
        }

        if (line.AsSpan().IndexOfAny('\n', '\r', '\0') >= 0)
        {
            return (null, "holds a line end");
        }

        var at = 0;
        var measurement = Part(line, ref at, ", ");
        if (measurement.Length == 0 || measurement[0] is '#' or '_')
        {
            return (null, "has no usable measurement");
        }

        var tags = new List<KeyValuePair<string, string>>();
        while (at < line.Length && line[at] == ',')
        {
            at++;
            var key = Part(line, ref at, "=, ");
            if (key.Length == 0 || at >= line.Length || line[at] != '=')
            {
                return (null, "has a tag without a name or a value");
            }

            at++;
            var value = Part(line, ref at, ",= ");
            if (value.Length == 0 || (at < line.Length && line[at] == '='))
            {
                return (null, $"has no usable value of the tag {key}");
            }

            if (tags.Any(tag => tag.Key == key))
            {
                return (null, $"has the tag {key} twice");
            }

            tags.Add(new(key, value));
        }

        if (at >= line.Length || line[at] != ' ')
        {
            return (null, "has no field");
        }

        at++;
        var fields = new List<KeyValuePair<string, object>>();
        if (Fields(line, ref at, fields) is { } problem)
        {
            return (null, problem);
        }

        return long.TryParse(line.AsSpan(at), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var time) && time is >= LowestTime and < long.MaxValue
            ? (new LinePoint(measurement, tags, fields, time), null)
            : (null, "has no usable time");
    }

    private static string? Fields(string line, ref int at, List<KeyValuePair<string, object>> fields)
    {
        while (true)
        {
            var key = Part(line, ref at, "=, ");
            if (key.Length == 0 || at >= line.Length || line[at] != '=')
            {
                return "has a field without a name or a value";
            }

            at++;
            if (Value(line, ref at) is not { } value)
            {
                return $"has no usable value of the field {key}";
            }

            if (fields.Any(field => field.Key == key))
            {
                return $"has the field {key} twice";
            }

            fields.Add(new(key, value));
            if (at >= line.Length || line[at] is not (',' or ' '))
            {
                return "has no time";
            }

            if (line[at++] == ' ')
            {
                return null;
            }
        }
    }

    private static object? Value(string line, ref int at)
    {
        if (at < line.Length && line[at] == '"')
        {
            return Quoted(line, ref at);
        }

        var end = line.AsSpan(at).IndexOfAny(',', ' ');
        var text = line.AsSpan(at, end < 0 ? line.Length - at : end);
        at += text.Length;
        if (text.Length > 1 && text[^1] == 'i')
        {
            return long.TryParse(text[..^1], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole) ? whole : null;
        }

        if (text is "true" or "false")
        {
            return text is "true";
        }

        return double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number)
            ? number
            : null;
    }

    private static string? Quoted(string line, ref int at)
    {
        var text = new global::System.Text.StringBuilder();
        for (at++; at < line.Length; at++)
        {
            if (line[at] == '"')
            {
                at++;
                return text.ToString();
            }

            if (line[at] == '\\' && at + 1 < line.Length && line[at + 1] is '"' or '\\')
            {
                at++;
            }

            text.Append(line[at]);
        }

        return null;
    }

    /// <summary>Up to one of the ends that no backslash precedes; a backslash before anything else stands for itself.</summary>
    private static string Part(string line, ref int at, string ends)
    {
        var text = new global::System.Text.StringBuilder();
        for (; at < line.Length && !ends.Contains(line[at], StringComparison.Ordinal); at++)
        {
            if (line[at] == '\\' && at + 1 < line.Length && line[at + 1] is ',' or '=' or ' ')
            {
                at++;
            }

            text.Append(line[at]);
        }

        return text.ToString();
    }
}
