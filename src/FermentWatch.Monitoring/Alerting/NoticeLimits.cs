namespace FermentWatch.Monitoring.Alerting;

/// <summary>How many notices a listener bears. The figures are common practice without a source. Urgent notices are exempt from all of it.</summary>
public sealed record NoticeLimits
{
    /// <summary>Time between two notices about the same batch; what comes sooner is told together. 0 to 24 h.</summary>
    public TimeSpan GroupInterval { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>The stretch over which alerts are counted for a flood.</summary>
    public TimeSpan FloodWindow { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>More alerts than this within <see cref="FloodWindow"/> are told in one summary; at least 1.</summary>
    public int FloodAbove { get; init; } = 5;

    /// <summary>Notices a day and listener; what comes after them waits for the daily digest. At least 1.</summary>
    public int ADay { get; init; } = 3;

    /// <summary>When the daily digest goes out, for a listener without a night; else it follows the end of the night.</summary>
    public TimeOnly DigestAt { get; init; } = new(8, 0);

    /// <summary>How long an urgent alert waits for somebody to take it on, before a second person is told.</summary>
    public TimeSpan SecondAfter { get; init; } = TimeSpan.FromHours(1);

    /// <summary>A longer stretch in which this program did not run is told of.</summary>
    public TimeSpan AwayAtLeast { get; init; } = TimeSpan.FromMinutes(30);

    /// <summary>How long late readings are waited for after such a stretch, before it is told of.</summary>
    public TimeSpan AwaySettles { get; init; } = TimeSpan.FromMinutes(10);
}
