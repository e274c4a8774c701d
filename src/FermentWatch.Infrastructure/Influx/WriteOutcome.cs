namespace FermentWatch.Infrastructure.Influx;

/// <summary>What a server said to lines.</summary>
public abstract record WriteOutcome
{
    private WriteOutcome()
    {
    }

    /// <summary>It has them.</summary>
    public sealed record Written : WriteOutcome;

    /// <summary>Not now.</summary>
    /// <param name="Because">Why, in words for the log; no secret.</param>
    /// <param name="After">How long it wishes to be left alone; null when it said nothing.</param>
    public sealed record TryAgain(string Because, TimeSpan? After) : WriteOutcome;

    /// <summary>It will not take these lines, or nothing at all from us.</summary>
    /// <param name="Because">Why, in words for the log; no secret.</param>
    /// <param name="IsAboutLines">Whether fewer or other lines may be taken; false when the way in is wrong (address, bucket, token).</param>
    public sealed record Refused(string Because, bool IsAboutLines) : WriteOutcome;
}
