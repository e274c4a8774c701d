using System.Collections.Concurrent;

[assembly: AssemblyFixture(typeof(FermentWatch.Oenology.Tests.ReferenceUse))]

namespace FermentWatch.Oenology.Tests;

/// <summary>Which rows of the tables a run looked at, and which it compared as a number; written to the file that FERMENTWATCH_REFERENCE_USE names.</summary>
public sealed class ReferenceUse : IDisposable
{
    private static readonly ConcurrentDictionary<string, byte> LookedAt = new(StringComparer.Ordinal);
    private static readonly ConcurrentDictionary<string, byte> ComparedRows = new(StringComparer.Ordinal);

    public void Dispose()
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_REFERENCE_USE") is { Length: > 0 } file)
        {
            File.WriteAllLines(file, LookedAt.Keys.Order(StringComparer.Ordinal).Select(id => $"{id},{(ComparedRows.ContainsKey(id) ? "number" : "text")}"));
        }
    }

    /// <summary>Whether a test of this run looked at what the row says.</summary>
    internal static bool IsRead(string id) => LookedAt.ContainsKey(id);

    internal static string Looked(string id, string expected)
    {
        LookedAt.TryAdd(id, 0);
        return expected;
    }

    internal static string Compared(string id, string expected)
    {
        ComparedRows.TryAdd(id, 0);
        return expected;
    }
}
