namespace FermentWatch.Simulation;

/// <summary>Numbers that look random and are the same for a seed on every machine and in every version of the runtime.</summary>
internal sealed class SeededNoise(long seed)
{
    private ulong _state = unchecked((ulong)seed * 0x9E3779B97F4A7C15UL) ^ 0xD1B54A32D192ED03UL;
    private double? _spareNormal;

    /// <summary>From 0 (inclusive) to 1 (exclusive), evenly.</summary>
    public double Unit()
    {
        // SplitMix64: a counter stirred until its bits are even.
        _state = unchecked(_state + 0x9E3779B97F4A7C15UL);
        var mixed = _state;
        mixed = unchecked((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9UL);
        mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL);
        return ((mixed ^ (mixed >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>Evenly between two numbers.</summary>
    public double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>Between two positive numbers, evenly by ratio.</summary>
    public double ByRatio(double low, double high) => low * Math.Pow(high / low, Unit());

    /// <summary>True in so large a share of cases. A number is used up either way.</summary>
    public bool Happens(double share) => Unit() < share;

    /// <summary>One of the choices.</summary>
    public T OneOf<T>(params ReadOnlySpan<T> choices) => choices[(int)(Unit() * choices.Length)];

    /// <summary>Normal with mean 0 and standard deviation 1.</summary>
    public double Normal()
    {
        if (_spareNormal is { } spare)
        {
            _spareNormal = null;
            return spare;
        }

        var radius = Math.Sqrt(-2 * Math.Log(1 - Unit()));
        var angle = 2 * Math.PI * Unit();
        _spareNormal = radius * Math.Sin(angle);
        return radius * Math.Cos(angle);
    }
}
