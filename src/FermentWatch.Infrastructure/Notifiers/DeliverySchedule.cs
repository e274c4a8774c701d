using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>When an undelivered notice is tried again: 14 attempts over 24 h, close together at first.</summary>
public static class DeliverySchedule
{
    /// <summary>How long after the first attempt the last one follows, when nothing delays any.</summary>
    public static readonly TimeSpan Window = TimeSpan.FromHours(24);

    // After the first attempt, in minutes.
    private static readonly double[] MinutesAfterFirst = [0, 0.5, 2, 5, 15, 30, 60, 120, 240, 480, 720, 960, 1200, 1440];

    /// <summary>Attempts after which it is given up.</summary>
    public static int Attempts => MinutesAfterFirst.Length;

    /// <summary>The time of the next attempt, or null when there is none: delivered, refused, or given up.</summary>
    /// <remarks>
    /// Steps are counted from <paramref name="now"/>, so neither our downtime nor a jump of the wall clock uses attempts up.
    /// A channel's own word is honored up to the end of the window.
    /// </remarks>
    /// <param name="attempts">Attempts made, this one included; at least 1.</param>
    /// <param name="firstTryAt">When the first was made.</param>
    /// <param name="now">When this one ended.</param>
    /// <param name="result">What became of it.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="attempts"/> is below 1.</exception>
    public static ReceivedAt? Next(int attempts, ReceivedAt firstTryAt, ReceivedAt now, DeliveryResult result)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(attempts, 1);
        if (result is not DeliveryResult.TryAgain again || attempts >= Attempts)
        {
            return null;
        }

        var next = now + TimeSpan.FromMinutes(MinutesAfterFirst[attempts] - MinutesAfterFirst[attempts - 1]);
        if (again.NotBefore is not { } wanted || wanted <= next)
        {
            return next;
        }

        var latest = Earlier(firstTryAt, now) + Window;
        return latest <= next ? next : Earlier(wanted, latest);
    }

    private static ReceivedAt Earlier(ReceivedAt one, ReceivedAt other) => one < other ? one : other;
}
