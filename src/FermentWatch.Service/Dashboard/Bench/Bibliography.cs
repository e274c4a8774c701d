using System.Collections.Frozen;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>The works behind the numbers, from the library's own <c>REFERENCES.md</c>, so that a key beside a number leads to its title.</summary>
internal static class Bibliography
{
    /// <summary>Every work, in the order of the file.</summary>
    public static IReadOnlyList<Work> Works { get; } = Read();

    private static FrozenSet<string> Keys { get; } = Works.Select(work => work.Key).ToFrozenSet(StringComparer.Ordinal);

    /// <summary>Whether a work stands under this key.</summary>
    public static bool Has(string key) => Keys.Contains(key);

    private static List<Work> Read()
    {
        using var stream = typeof(Bibliography).Assembly.GetManifestResourceStream("references.md")!;
        using var text = new StreamReader(stream);
        var works = new List<Work>();
        while (text.ReadLine() is { } line)
        {
            var cells = line.Split(" | ");
            if (cells.Length == 4 && cells[0].StartsWith("| [", StringComparison.Ordinal) && cells[0].EndsWith(']'))
            {
                works.Add(new Work(cells[0][3..^1], cells[1].Trim(), cells[2].Trim(), cells[3].TrimEnd(' ', '|')));
            }
        }

        return works;
    }
}

/// <summary>A work of the bibliography.</summary>
/// <param name="Key">Its key: author and year, or a short name.</param>
/// <param name="Title">Author, title, place, year.</param>
/// <param name="UsedFor">What rests on it.</param>
/// <param name="Read">How far it was read.</param>
internal sealed record Work(string Key, string Title, string UsedFor, string Read);
