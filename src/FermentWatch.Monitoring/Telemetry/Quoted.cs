using System.Globalization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Makes a device's own text fit to be quoted in a reason: short, on one line.</summary>
internal static class Quoted
{
    private const int Longest = 40;

    public static ReasonValue Value(ReadOnlySpan<char> text)
    {
        var cut = text.Length > Longest ? string.Concat(text[..Longest], "…") : text.ToString();
        return new ReasonValue.Name(string.Create(cut.Length, cut, static (line, from) =>
        {
            for (var i = 0; i < line.Length; i++)
            {
                var lineBreak = char.GetUnicodeCategory(from[i]) is UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
                line[i] = char.IsControl(from[i]) || lineBreak || char.IsSurrogate(from[i]) ? '\uFFFD' : from[i];
            }
        }));
    }
}
