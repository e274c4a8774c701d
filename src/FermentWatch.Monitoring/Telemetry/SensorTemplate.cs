using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>A sensor's name with places for wildcard levels: <c>carboy {1}</c> on <c>cellar/+/gravity</c> names one sensor per carboy.</summary>
public sealed record SensorTemplate
{
    /// <summary>Longest name of a sensor, in characters.</summary>
    public const int LongestName = 80;

    private SensorTemplate(string text, IEnumerable<Part> parts)
    {
        Text = text;
        Parts = ValueList.Of(parts);
    }

    /// <summary>The template as it was written.</summary>
    public string Text { get; }

    /// <summary>True when every topic gives the same name.</summary>
    public bool IsFixed => Parts.All(part => part.Level is null);

    private ValueList<Part> Parts { get; }

    /// <summary>Reads a template for a filter with so many wildcard levels.</summary>
    /// <exception cref="FormatException">The message says what is wrong.</exception>
    public static SensorTemplate Parse(string text, int wildcardLevels) =>
        TryParse(text, wildcardLevels, out var template, out var problem) ? template : throw new FormatException(problem);

    /// <summary>Reads a template, or says in <paramref name="problem"/> what is wrong.</summary>
    public static bool TryParse(string text, int wildcardLevels, [NotNullWhen(true)] out SensorTemplate? template, [NotNullWhen(false)] out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        template = null;
        problem = text.Length is 0 or > LongestName || !IsUsable(text)
            ? "A sensor's name has 1 to 80 characters, none of them a control character, and is not blank."
            : null;
        var parts = new List<Part>();
        var at = 0;
        while (problem is null && at < text.Length)
        {
            if (text[at] is '{')
            {
                var close = text.IndexOf('}', at);
                var inside = close < 0 ? text[(at + 1)..] : text[(at + 1)..close];
                if (close < 0 || !int.TryParse(inside, NumberStyles.None, CultureInfo.InvariantCulture, out var level) || level < 1 || level > wildcardLevels)
                {
                    problem = wildcardLevels == 0
                        ? "The topic filter has no wildcard level, so the sensor's name cannot hold '{1}'."
                        : string.Create(CultureInfo.InvariantCulture, $"Braces in a sensor's name hold the number of a wildcard level of the topic filter, from {{1}} to {{{wildcardLevels}}}.");
                    break;
                }

                parts.Add(new Part(null, level));
                at = close + 1;
            }
            else
            {
                var next = text.IndexOf('{', at);
                var end = next < 0 ? text.Length : next;
                parts.Add(new Part(text[at..end], null));
                at = end;
            }
        }

        template = problem is null ? new SensorTemplate(text, parts) : null;
        return problem is null;
    }

    /// <summary>Whether some topic could give this name.</summary>
    public bool CanName(SensorId sensor)
    {
        if (IsFixed)
        {
            return sensor.Value == Text;
        }

        // The words in their order, each as early as it can stand; first and last are held to the ends.
        var first = Parts[0].Words ?? string.Empty;
        var last = Parts[Parts.Count - 1].Words ?? string.Empty;
        var name = sensor.Value;
        if (name.Length < first.Length + last.Length
            || !name.StartsWith(first, StringComparison.Ordinal)
            || !name.EndsWith(last, StringComparison.Ordinal))
        {
            return false;
        }

        var rest = name.AsSpan(first.Length, name.Length - first.Length - last.Length);
        foreach (var part in Parts.Skip(1).SkipLast(1).Where(part => part.Words is not null))
        {
            var at = rest.IndexOf(part.Words, StringComparison.Ordinal);
            if (at < 0)
            {
                return false;
            }

            rest = rest[(at + part.Words!.Length)..];
        }

        return true;
    }

    /// <summary>The name for a topic's captures; null when it is unusable, and then <paramref name="filled"/> shows it.</summary>
    internal SensorId? Fill(ValueList<string> captures, out string filled)
    {
        var name = new StringBuilder();
        foreach (var part in Parts)
        {
            name.Append(part.Level is { } level ? captures[level - 1] : part.Words);
        }

        filled = name.ToString();
        return filled.Length <= LongestName && IsUsable(filled) ? new SensorId(filled) : null;
    }

    private static bool IsUsable(string name) =>
        !string.IsNullOrWhiteSpace(name) && !name.Any(char.IsControl);

    private sealed record Part(string? Words, int? Level);
}
