namespace FermentWatch.Monitoring.Telemetry;

/// <summary>What the judgment of a series' next device time needs to remember: the newest stamp that was trusted.</summary>
/// <param name="DeviceTime">The newest device time that was trusted, or null before the first.</param>
/// <param name="ReceivedAt">When that one arrived.</param>
public readonly record struct ClockHistory(EventTime? DeviceTime, ReceivedAt? ReceivedAt)
{
    /// <summary>Before the first reading of a series.</summary>
    public static ClockHistory None => default;
}

/// <summary>When a sample was taken, as far as it can be told.</summary>
/// <param name="At">Event time: the device's own when it is trusted, else the arrival.</param>
/// <param name="Trusted">False when the device's stamp was not believed, or when our own clock was not set at the arrival.</param>
/// <param name="Code">Why it is not trusted, as a resource key; null when it is.</param>
/// <param name="Next">What to remember for the next reading of the series in arrival order.</param>
public readonly record struct ClockVerdict(EventTime At, bool Trusted, string? Code, ClockHistory Next);

/// <summary>Decides whether the time that a device gave for a sample can be right.</summary>
/// <remarks>
/// A late stamp is not a wrong one: a device that was out of reach delivers days of readings at once, in any order. Only what cannot
/// be late delivery is repaired, and the repaired time is the arrival. Limits are common practice without a source.
/// A clock that is wrong by less than these limits looks exactly like late delivery and passes.
/// </remarks>
public static class ClockRepair
{
    /// <summary>The stamp lies further back than <see cref="FurthestBack"/>.</summary>
    public const string TooOld = "clock-too-old";

    /// <summary>The stamp lies further ahead of the arrival than <see cref="FurthestAhead"/>.</summary>
    public const string Ahead = "clock-ahead";

    /// <summary>The stamp jumped back against the one before it in arrival order by more than <see cref="LargestStepBack"/>.</summary>
    public const string JumpedBack = "clock-jumped-back";

    /// <summary>Our own clock was not set when the message arrived, so that there is nothing to compare with.</summary>
    public const string ArrivalClockNotSet = "arrival-clock-not-set";

    /// <summary>How far a stamp may lie behind its arrival: 400 days.</summary>
    public static TimeSpan FurthestBack { get; } = TimeSpan.FromDays(400);

    /// <summary>How far a stamp may lie ahead of its arrival: 10 minutes.</summary>
    public static TimeSpan FurthestAhead { get; } = TimeSpan.FromMinutes(10);

    /// <summary>How far a stamp may step back against the newest trusted one of its series: 180 days, longer than a ferment is followed.</summary>
    public static TimeSpan LargestStepBack { get; } = TimeSpan.FromDays(180);

    /// <summary>An arrival before this instant says that our own clock was not set (a board without a battery starts in 1970): 2020-01-01.</summary>
    public static ReceivedAt EarliestSaneArrival { get; } = ReceivedAt.From(new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero));

    /// <summary>Judges one stamp.</summary>
    /// <param name="deviceTime">What the device said, or null when it said nothing: then the arrival is the event time.</param>
    /// <param name="receivedAt">Arrival; a replay passes the arrival of its record.</param>
    /// <param name="history">What the last verdict of this series said to remember.</param>
    public static ClockVerdict Judge(EventTime? deviceTime, ReceivedAt receivedAt, ClockHistory history)
    {
        var arrival = new EventTime(receivedAt.UnixMicroseconds);
        if (receivedAt < EarliestSaneArrival)
        {
            // The device's word is the better one here; without it the arrival keeps at least the order.
            return new ClockVerdict(deviceTime ?? arrival, deviceTime is not null, deviceTime is null ? ArrivalClockNotSet : null, history);
        }

        if (deviceTime is not { } stamp)
        {
            return new ClockVerdict(arrival, true, null, history);
        }

        // Limits are added to the sane side: a stamp may be any number at all.
        if (stamp > arrival + FurthestAhead)
        {
            return new ClockVerdict(arrival, false, Ahead, history);
        }

        if (stamp < arrival - FurthestBack)
        {
            return new ClockVerdict(arrival, false, TooOld, history);
        }

        if (history.DeviceTime is { } newest && stamp < newest - LargestStepBack)
        {
            return new ClockVerdict(arrival, false, JumpedBack, history);
        }

        var isNewest = history.DeviceTime is not { } before || stamp > before;
        return new ClockVerdict(stamp, true, null, isNewest ? new ClockHistory(stamp, receivedAt) : history);
    }
}
