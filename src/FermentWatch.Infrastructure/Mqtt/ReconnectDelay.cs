namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>How long to wait before the next try: doubling from the shortest to the longest wait, half of it by chance, so that many clients do not return at once.</summary>
internal sealed class ReconnectDelay(TimeSpan shortest, TimeSpan longest, Random random)
{
    private int _failures;

    /// <summary>A connection held: the next failure begins anew.</summary>
    public void Reset() => _failures = 0;

    /// <summary>The wait after one more failure.</summary>
    public TimeSpan Next()
    {
        // Beyond 2^20 the product is longer than any wait, and an exponent without bound would overflow.
        var full = shortest * Math.Pow(2, Math.Min(_failures++, 20));
        var chosen = full * (0.5 + random.NextDouble());
        return chosen < shortest ? shortest : chosen > longest ? longest * (0.75 + (0.25 * random.NextDouble())) : chosen;
    }
}
