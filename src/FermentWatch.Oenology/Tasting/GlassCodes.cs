using System.Collections.Immutable;
using System.Globalization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Three-digit numbers for glasses, with nothing to read into them.</summary>
public static class GlassCodes
{
    // No zero in front, no digit twice, no run such as 135 or 987.
    private static readonly ImmutableArray<string> All =
    [
        .. Enumerable.Range(100, 900)
            .Where(code => (code / 100 != code / 10 % 10) && (code / 10 % 10 != code % 10) && (code / 100 != code % 10))
            .Where(code => (code / 100) - (code / 10 % 10) != (code / 10 % 10) - (code % 10))
            .Select(code => code.ToString(CultureInfo.InvariantCulture)),
    ];

    /// <summary>How many codes there are.</summary>
    public static int Available => All.Length;

    /// <summary>Draws different codes.</summary>
    /// <param name="count">How many, 0 to 60.</param>
    /// <param name="seed">Decides the draw.</param>
    /// <param name="taken">Codes that are in use already.</param>
    /// <remarks>Three-digit random codes are asked for by ISO 4120 (excerpt of AS 2542.2.2 read).</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Not 0 to 60.</exception>
    public static ImmutableArray<string> Draw(int count, long seed, IEnumerable<string>? taken = null)
    {
        QuantityRange.Require(count, 0, 60, "codes", "codes");
        var used = taken?.ToHashSet(StringComparer.Ordinal) ?? [];
        return [.. new SeededDraw(seed).Shuffle(All.Where(code => !used.Contains(code))).Take(count)];
    }
}
