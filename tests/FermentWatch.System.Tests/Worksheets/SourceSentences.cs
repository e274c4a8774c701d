using System.Text;
using System.Text.RegularExpressions;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>Sentences as they are written in the library's sources: what stands in quotation marks inside a call that says something, with {0}, {1} for its values.</summary>
internal static partial class SourceSentences
{
    /// <summary>Place and template of each.</summary>
    public static IEnumerable<(string Where, string Template)> In(string folder)
    {
        foreach (var path in Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories).Where(path => !Built().IsMatch(path)))
        {
            var source = File.ReadAllText(path);
            foreach (Match call in Saying().Matches(source))
            {
                var end = End(source, call.Index + call.Length);
                foreach (var template in Literals(source, call.Index + call.Length, end).Where(text => text.Contains(' ', StringComparison.Ordinal)))
                {
                    yield return (Path.GetFileName(path), template);
                }
            }
        }
    }

    /// <summary>The quotation marks of a stretch of source, those inside the values of others included.</summary>
    private static List<string> Literals(string source, int from, int to)
    {
        var found = new List<string>();
        for (var at = from; at < to; at++)
        {
            if (source[at] == '"')
            {
                at = Read(source, at, source[at - 1] == '$', found);
            }
        }

        return found;
    }

    // Reads one literal that begins at a quotation mark, and gives the place of the one that ends it.
    private static int Read(string source, int at, bool hasValues, List<string> found)
    {
        var (text, values) = (new StringBuilder(), 0);
        for (at++; source[at] != '"'; at++)
        {
            if (source[at] == '\\')
            {
                text.Append(source[++at]);
            }
            else if (hasValues && source[at] == '{')
            {
                var begin = at + 1;
                at = End(source, begin, '{', '}') - 1;
                found.AddRange(Literals(source, begin, at));
                text.Append('{').Append(values++).Append('}');
            }
            else
            {
                text.Append(source[at]);
            }
        }

        found.Add(text.ToString());
        return at;
    }

    // The place behind the bracket that closes what was opened before 'at'.
    private static int End(string source, int at, char open = '(', char close = ')')
    {
        for (var depth = 1; depth > 0; at++)
        {
            if (source[at] == '"')
            {
                at = Read(source, at, source[at - 1] == '$', []);
            }
            else
            {
                depth += source[at] == open ? 1 : source[at] == close ? -1 : 0;
            }
        }

        return at;
    }

    [GeneratedRegex(@"\b(?:WorksheetNotice\.(?:Note|Warning|Refusal)|Refuse|values\.(?:Wrong|Needed)|Common|Sourced|Practice|new InputFault|Fault|Outside|lines\.Add)\(")]
    private static partial Regex Saying();

    [GeneratedRegex(@"[\\/](?:bin|obj)[\\/]")]
    private static partial Regex Built();
}
