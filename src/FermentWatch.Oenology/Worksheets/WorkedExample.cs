namespace FermentWatch.Oenology.Worksheets;

/// <summary>A worked example: run by the tests, shown as help.</summary>
/// <param name="Given">Key and text of each field.</param>
/// <param name="Expected">Results that must come out.</param>
/// <param name="ExpectedNotices">Codes of notices that must come out.</param>
/// <param name="Source">Where the expected values come from; 'computed by hand: ...' where no one published them.</param>
public sealed record WorkedExample(
    IReadOnlyDictionary<string, string> Given,
    IReadOnlyList<ExpectedResult> Expected,
    IReadOnlyList<string> ExpectedNotices,
    string Source)
{
    /// <summary>An example with numbers.</summary>
    /// <param name="given">Fields as on the command line: "volume=20 ph=3.4"; a value with a blank stands in single quotes.</param>
    /// <param name="source">Where the expected values come from.</param>
    /// <param name="expected">Results that must come out.</param>
    public static WorkedExample Of(string given, string source, params IReadOnlyList<ExpectedResult> expected) => new(Fields(given), expected, [], source);

    /// <summary>An example of a notice, such as a refusal.</summary>
    public static WorkedExample Saying(string given, string source, params IReadOnlyList<string> notices) => new(Fields(given), [], notices, source);

    private static Dictionary<string, string> Fields(string given)
    {
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        var rest = given.AsSpan().Trim();
        while (!rest.IsEmpty)
        {
            var equals = rest.IndexOf('=');
            var key = rest[..equals].Trim().ToString();
            rest = rest[(equals + 1)..];
            var quoted = !rest.IsEmpty && rest[0] == '\'';
            var end = quoted ? rest[1..].IndexOf('\'') + 1 : rest.IndexOf(' ');
            fields[key] = (end < 0 ? rest : quoted ? rest[1..end] : rest[..end]).ToString();
            rest = end < 0 ? [] : rest[(end + 1)..].Trim();
        }

        return fields;
    }
}

/// <summary>A number or words that must come out of an example.</summary>
/// <param name="Key">Key of the result.</param>
/// <param name="Value">Expected number in the kept unit; ignored for words.</param>
/// <param name="Tolerance">Allowed difference.</param>
/// <param name="Text">Expected first line of words; null for a number.</param>
public sealed record ExpectedResult(string Key, double Value, double Tolerance, string? Text = null)
{
    /// <summary>Words that must come out.</summary>
    public static ExpectedResult Words(string key, string text) => new(key, 0, 0, text);
}
