using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A wish not to hear of an alert for a while. It ends by time, when the alert ends, or when the alert becomes more severe.</summary>
/// <param name="From">When somebody wished it, on our clock.</param>
/// <param name="Until">When it ends by time.</param>
/// <param name="Severity">Severity of the alert then: a higher one is told at once.</param>
public sealed record AlertSnooze(ReceivedAt From, ReceivedAt Until, Severity Severity)
{
    /// <summary>Whether it also ends with the next entry of the journal or the next other alert of the batch.</summary>
    public bool IsUntilEvent { get; init; }

    /// <summary>Four hours. Common practice, no source.</summary>
    public static TimeSpan Usual { get; } = TimeSpan.FromHours(4);

    /// <summary>When a snooze until the morning ends. Common practice, no source.</summary>
    public static TimeOnly Morning { get; } = new(8, 0);

    // A clock that is set back by more than this would stretch the snooze: rather speak.
    private static readonly TimeSpan ClockSlack = TimeSpan.FromHours(1);

    /// <summary>The longest snooze: 24 h for an urgent alert, 7 days for any other. Common practice, no source.</summary>
    public static TimeSpan Longest(Severity severity) => severity is Severity.Urgent ? TimeSpan.FromHours(24) : TimeSpan.FromDays(7);

    /// <summary>A snooze from a moment on, cut to the longest for the severity.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The length is not positive.</exception>
    public static AlertSnooze Begin(ReceivedAt at, TimeSpan length, Severity severity)
    {
        if (length <= TimeSpan.Zero)
        {
            throw new ArgumentOutOfRangeException(nameof(length), length, $"A snooze of {length} ends before it begins; it must be longer than zero.");
        }

        var longest = Longest(severity);
        return new AlertSnooze(at, at + (length < longest ? length : longest), severity);
    }

    /// <summary>Time from a moment to the next <see cref="Morning"/> of a zone's wall clock: more than zero, across clock changes.</summary>
    public static TimeSpan UntilMorning(ReceivedAt at, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        var today = TimeZoneInfo.ConvertTimeFromUtc(at.ToDateTimeOffset().UtcDateTime, zone).Date;
        // The day before too: a zone that skips a day would else skip its morning.
        return Enumerable.Range(-1, 4)
            .Select(day => QuietHours.MomentOf(today.AddDays(day) + Morning.ToTimeSpan(), zone) - at)
            .First(length => length > TimeSpan.Zero);
    }

    /// <summary>Whether an alert of this severity is quiet at that moment.</summary>
    /// <param name="severity">Its severity now.</param>
    /// <param name="now">The moment.</param>
    /// <param name="eventAt">When anything else last happened to the batch; null for never.</param>
    public bool Quiets(Severity severity, ReceivedAt now, EventTime? eventAt = null) =>
        severity <= Severity && now < Until && From - now <= ClockSlack && !(IsUntilEvent && eventAt?.UnixMicroseconds > From.UnixMicroseconds);
}
