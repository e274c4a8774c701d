namespace FermentWatch.Oenology.Tasting;

/// <summary>Random draws that are the same for the same seed on every machine and version.</summary>
/// <remarks>SplitMix64: a counter and a bit mixer. Good enough to shuffle glasses; not for secrets.</remarks>
internal sealed class SeededDraw(long seed)
{
    private ulong _state = unchecked((ulong)seed);

    /// <summary>A whole number from 0 to <paramref name="limit"/> - 1.</summary>
    public int Below(int limit)
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15;
            var mixed = _state;
            mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
            return (int)((mixed ^ (mixed >> 31)) % (ulong)limit);
        }
    }

    /// <summary>The items in a random order.</summary>
    public T[] Shuffle<T>(IEnumerable<T> items)
    {
        var shuffled = items.ToArray();
        for (var last = shuffled.Length - 1; last > 0; last--)
        {
            var other = Below(last + 1);
            (shuffled[last], shuffled[other]) = (shuffled[other], shuffled[last]);
        }

        return shuffled;
    }
}
