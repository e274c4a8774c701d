namespace FermentWatch.Monitoring.Telemetry;

/// <summary>An event time with the standing of the clock that it came from.</summary>
/// <param name="At">Event time, repaired when the device's clock was not trusted.</param>
/// <param name="ClockTrusted">Whether it is what the device stamped.</param>
public readonly record struct PlacedStamp(EventTime At, bool ClockTrusted);

/// <summary>What of earlier messages of one device is needed to place its next stamp.</summary>
/// <param name="LastAt">Event time given to the message before.</param>
/// <param name="LastReceivedAt">When that message arrived.</param>
/// <param name="Shift">What is added to the device's stamps at present because its clock is off; zero while it is trusted.</param>
public sealed record ClockState(EventTime? LastAt, ReceivedAt? LastReceivedAt, TimeSpan Shift)
{
    /// <summary>Nothing heard of the device yet.</summary>
    public static ClockState Unheard { get; } = new(null, null, TimeSpan.Zero);
}

/// <summary>Repairs event times of devices whose clock was off for a while. Raw stamps are never changed.</summary>
public static class ClockRepair
{
    /// <summary>A stamp farther back than this comes from a clock that was never set.</summary>
    public static TimeSpan OldestTrusted { get; } = TimeSpan.FromDays(400);

    /// <summary>A stamp farther ahead of us than this comes from a clock that is off.</summary>
    public static TimeSpan FarthestAhead { get; } = TimeSpan.FromMinutes(10);

    /// <summary>A device may send readings in swapped order; a step back farther than this is a clock that jumped.</summary>
    private static readonly TimeSpan SwapReach = TimeSpan.FromHours(1);

    /// <summary>Longest time for which a clock is thought to be ahead before it comes back.</summary>
    private static readonly TimeSpan LongestAhead = TimeSpan.FromHours(48);

    /// <summary>Places one live stamp.</summary>
    /// <remarks>
    /// A stamp inside of the two limits is trusted, unless it steps back against the message before into time from which readings are
    /// already there: late readings fill a gap, a clock that jumped writes over what is known. What is not trusted goes where the
    /// arrival says.
    /// </remarks>
    /// <param name="state">What is known of the device.</param>
    /// <param name="stamp">What it sent.</param>
    /// <param name="received">When it arrived.</param>
    /// <param name="isCovered">Whether the store holds readings of the device close to the stamp, from earlier messages.</param>
    public static (PlacedStamp Placed, ClockState State) Place(ClockState state, EventTime stamp, ReceivedAt received, bool isCovered)
    {
        ArgumentNullException.ThrowIfNull(state);
        var arrival = new EventTime(received.UnixMicroseconds);
        var isInRange = stamp >= arrival - OldestTrusted && stamp <= arrival + FarthestAhead;
        if (state.LastAt is not { } last || state.LastReceivedAt is not { } lastReceived)
        {
            return Settle(isInRange ? new PlacedStamp(stamp, true) : new PlacedStamp(arrival, false), received, TimeSpan.Zero);
        }

        var expected = last + (received - lastReceived);
        var jumpsBack = isInRange && last - stamp > SwapReach && isCovered;
        if (isInRange && !jumpsBack)
        {
            return Settle(new PlacedStamp(stamp, true), received, TimeSpan.Zero);
        }

        // As long as the clock runs on with the same error its own spacing is better than that of the arrivals.
        var shifted = stamp + state.Shift;
        var runsOn = state.Shift != TimeSpan.Zero && (shifted - expected).Duration() <= SwapReach && shifted <= arrival + FarthestAhead;
        var at = runsOn ? shifted : arrival;
        return Settle(new PlacedStamp(at, false), received, at - stamp);
    }

    /// <summary>Places the stamps of a recorded batch, which has no times of arrival, from their order of arrival.</summary>
    /// <param name="stamps">Stamps of one device in order of arrival.</param>
    public static IReadOnlyList<PlacedStamp> FromArrivalOrder(IReadOnlyList<EventTime> stamps)
    {
        ArgumentNullException.ThrowIfNull(stamps);
        var placed = new PlacedStamp[stamps.Count];
        var spacing = MedianSpacing(stamps);
        var shift = TimeSpan.Zero;
        var last = default(EventTime);
        for (var i = 0; i < placed.Length; i++)
        {
            if (i > 0 && stamps[i] + shift < last - SwapReach)
            {
                if (shift == TimeSpan.Zero && StartOfAhead(placed, i, stamps[i], spacing) is { } start)
                {
                    var ahead = placed[start].At - placed[start - 1].At - spacing;
                    for (var j = start; j < i; j++)
                    {
                        placed[j] = new PlacedStamp(placed[j].At - ahead, false);
                    }
                }
                else
                {
                    shift = last + spacing - stamps[i];
                }
            }
            else if (shift != TimeSpan.Zero && (stamps[i] - (last + spacing)).Duration() <= SwapReach)
            {
                shift = TimeSpan.Zero;
            }

            placed[i] = new PlacedStamp(stamps[i] + shift, shift == TimeSpan.Zero);
            last = i == 0 || placed[i].At > last || !placed[i - 1].ClockTrusted ? placed[i].At : last;
        }

        return placed;
    }

    // The clock had gone ahead, which looked like a silence, and is now back: where did that begin?
    private static int? StartOfAhead(PlacedStamp[] placed, int index, EventTime stamp, TimeSpan spacing)
    {
        for (var k = index - 1; k > 0 && placed[index - 1].At - placed[k].At <= LongestAhead; k--)
        {
            var ahead = placed[k].At - placed[k - 1].At - spacing;
            var isBack = (placed[index - 1].At - ahead + spacing - stamp).Duration() <= SwapReach;
            if (ahead > SwapReach && isBack)
            {
                return k;
            }
        }

        return null;
    }

    private static TimeSpan MedianSpacing(IReadOnlyList<EventTime> stamps)
    {
        if (stamps.Count < 2)
        {
            return TimeSpan.Zero;
        }

        var spacings = new long[stamps.Count - 1];
        for (var i = 0; i < spacings.Length; i++)
        {
            spacings[i] = Math.Abs(stamps[i + 1].UnixMicroseconds - stamps[i].UnixMicroseconds);
        }

        Array.Sort(spacings);
        return TimeSpan.FromMicroseconds(spacings[spacings.Length / 2]);
    }

    private static (PlacedStamp Placed, ClockState State) Settle(PlacedStamp placed, ReceivedAt received, TimeSpan shift) =>
        (placed, new ClockState(placed.At, received, shift));
}
