using System.Diagnostics.CodeAnalysis;
using System.Text;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>An MQTT topic filter: levels between slashes, where <c>+</c> stands for one level and <c>#</c>, last, for the parent and all below.</summary>
/// <remarks>
/// <para><b>Valid.</b> 1 to 65,535 bytes of well-formed UTF-8 without U+0000; a wildcard alone in its level; <c>#</c> last.
/// Shared subscriptions (<c>$share/...</c>) are refused: they would split the readings among subscribers.</para>
/// <para><b>Source.</b> MQTT Version 5.0, OASIS Standard, sections 1.5.4, 4.7 and 4.8.2; the rules of 4.7 are those of MQTT 3.1.1.</para>
/// </remarks>
public sealed record TopicFilter
{
    /// <summary>Longest filter or topic, in bytes of UTF-8.</summary>
    public const int LongestBytes = 65535;

    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private TopicFilter(string text)
    {
        Text = text;
        Levels = ValueList.Of<string>(text.Split('/'));
        WildcardLevels = Levels.Count(level => level is "+" or "#");
    }

    /// <summary>The filter as it was written.</summary>
    public string Text { get; }

    /// <summary>How many levels are wildcards: as many captures a matching topic gives.</summary>
    public int WildcardLevels { get; }

    private ValueList<string> Levels { get; }

    /// <summary>Reads a filter.</summary>
    /// <exception cref="FormatException">It breaks a rule of the standard; the message says which.</exception>
    public static TopicFilter Parse(string text) =>
        TryParse(text, out var filter, out var problem) ? filter : throw new FormatException(problem);

    /// <summary>Reads a filter, or says in <paramref name="problem"/> which rule it breaks.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out TopicFilter? filter, [NotNullWhen(false)] out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        problem = ProblemOf(text);
        filter = problem is null ? new TopicFilter(text) : null;
        return problem is null;
    }

    /// <summary>Whether messages on <paramref name="topic"/> are meant.</summary>
    public bool Matches(string topic) => Match(topic, captures: null);

    /// <summary>What the wildcard levels stand for in <paramref name="topic"/>, in order; null when it does not match.</summary>
    /// <remarks><c>#</c> gives all remaining levels with their slashes, or an empty text when it matched its parent level.</remarks>
    public ValueList<string>? Captures(string topic)
    {
        var captures = new List<string>(WildcardLevels);
        return Match(topic, captures) ? ValueList.Of<string>(captures) : null;
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    private bool Match(string topic, List<string>? captures)
    {
        ArgumentNullException.ThrowIfNull(topic);
        if (topic.Length == 0 || topic.AsSpan().ContainsAny('+', '#', '\0'))
        {
            return false;
        }

        // [MQTT-4.7.2-1]: a leading wildcard never reaches the topics that a broker keeps for itself.
        if (topic[0] == '$' && (Levels[0] is "+" or "#"))
        {
            return false;
        }

        var start = 0;
        foreach (var level in Levels)
        {
            if (level == "#")
            {
                captures?.Add(start > topic.Length ? string.Empty : topic[start..]);
                return true;
            }

            if (start > topic.Length)
            {
                return false;
            }

            var slash = topic.IndexOf('/', start);
            var end = slash < 0 ? topic.Length : slash;
            if (level == "+")
            {
                captures?.Add(topic[start..end]);
            }
            else if (!topic.AsSpan(start, end - start).SequenceEqual(level))
            {
                return false;
            }

            start = end + 1;
        }

        return start > topic.Length;
    }

    private static string? ProblemOf(string text)
    {
        if (text.Length == 0)
        {
            return "A topic filter has at least one character, such as 'cellar/+/gravity'.";
        }

        if (text.Contains('\0', StringComparison.Ordinal))
        {
            return "A topic filter must not hold the character U+0000.";
        }

        try
        {
            if (StrictUtf8.GetByteCount(text) > LongestBytes)
            {
                return "A topic filter has at most 65535 bytes of UTF-8.";
            }
        }
        catch (EncoderFallbackException)
        {
            return "A topic filter must be well-formed Unicode; half of a surrogate pair was found.";
        }

        if (text.StartsWith("$share/", StringComparison.Ordinal))
        {
            return "A shared subscription ($share/...) would split the readings among subscribers: give the filter behind the group's name.";
        }

        var levels = text.Split('/');
        for (var i = 0; i < levels.Length; i++)
        {
            if (levels[i].Contains('#', StringComparison.Ordinal) && (levels[i].Length > 1 || i < levels.Length - 1))
            {
                return "'#' must stand alone in the last level, as in 'cellar/#'.";
            }

            if (levels[i].Contains('+', StringComparison.Ordinal) && levels[i].Length > 1)
            {
                return "'+' must stand alone in its level, as in 'cellar/+/gravity'.";
            }
        }

        return null;
    }
}
