namespace FermentWatch.Monitoring.Telemetry;

/// <summary>An event time with the standing of the clock that it came from.</summary>
/// <param name="At">Event time, repaired when the device's clock was not trusted.</param>
/// <param name="ClockTrusted">Whether it is what the device stamped.</param>
public readonly record struct PlacedStamp(EventTime At, bool ClockTrusted);

/// <summary>Repairs the event times of a recorded batch: a recording has stamps in order of arrival and no times of arrival.</summary>
/// <remarks>Live readings go through <see cref="ClockRepair"/>, which knows when they arrived. Raw stamps are never changed.</remarks>
public static class RecordedClock
{
    /// <summary>A device may send readings in swapped order; a step back farther than this is a clock that jumped.</summary>
    private static readonly TimeSpan SwapReach = TimeSpan.FromHours(1);

    /// <summary>Longest time for which a clock is thought to be ahead before it comes back.</summary>
    private static readonly TimeSpan LongestAhead = TimeSpan.FromHours(48);

    /// <summary>Longest silence that is believed rather than that a clock was set right meanwhile.</summary>
    private static readonly TimeSpan LongestSilence = TimeSpan.FromDays(60);

    /// <summary>Places stamps of which all had arrived by <paramref name="now"/>: a stamp that cannot be, by then, says that the clock was wrong.</summary>
    /// <remarks>
    /// Stamps more than <see cref="ClockRepair.FurthestBack"/> back are placed by their neighbors; so is what a clock that is still ahead has
    /// stamped. Otherwise as <see cref="FromArrivalOrder(IReadOnlyList{EventTime})"/>.
    /// </remarks>
    /// <param name="stamps">Stamps of one device in order of arrival.</param>
    /// <param name="now">A trustworthy moment at which all of them had arrived.</param>
    public static IReadOnlyList<PlacedStamp> FromArrivalOrder(IReadOnlyList<EventTime> stamps, EventTime now)
    {
        ArgumentNullException.ThrowIfNull(stamps);
        var first = 0;
        while (first < stamps.Count && IsImpossible(stamps[first], now))
        {
            first++;
        }

        var sane = new EventTime[stamps.Count - first];
        for (var i = 0; i < sane.Length; i++)
        {
            sane[i] = stamps[first + i];
        }

        var placed = new PlacedStamp[stamps.Count];
        var spacing = MedianSpacing(stamps);
        var rest = FromArrivalOrder(sane);
        for (var i = 0; i < rest.Count; i++)
        {
            placed[first + i] = rest[i];
        }

        // A clock that begins in 1970 and is set later still counts the hours between its readings.
        var next = rest.Count > 0 ? rest[0].At - spacing : now;
        for (var i = first - 1; i >= 0; i--)
        {
            var between = i + 1 < first ? stamps[i + 1] - stamps[i] : TimeSpan.Zero;
            next -= between > TimeSpan.Zero && between <= LongestAhead ? between : i + 1 < first ? spacing : TimeSpan.Zero;
            placed[i] = new PlacedStamp(next, false);
        }

        PullBack(placed, first, spacing, now);
        return placed;
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
            else if (shift != TimeSpan.Zero && (IsBackInStep(stamps[i], last + spacing) || (stamps[i] >= last && stamps[i] + shift > last + LongestSilence)))
            {
                shift = TimeSpan.Zero;
            }

            placed[i] = new PlacedStamp(stamps[i] + shift, shift == TimeSpan.Zero);
            last = i == 0 || placed[i].At > last || !placed[i - 1].ClockTrusted ? placed[i].At : last;
        }

        return placed;
    }

    private static bool IsBackInStep(EventTime stamp, EventTime expected) => (stamp - expected).Duration() <= SwapReach;

    private static bool IsImpossible(EventTime stamp, EventTime now) =>
        stamp < now - ClockRepair.FurthestBack || stamp > now + ClockRepair.FurthestAhead;

    // The clock is still ahead: everything since the silence that it seemed to begin with came earlier than it says.
    private static void PullBack(PlacedStamp[] placed, int first, TimeSpan spacing, EventTime now)
    {
        var ahead = TimeSpan.Zero;
        for (var i = first; i < placed.Length; i++)
        {
            ahead = placed[i].At - now > ahead ? placed[i].At - now : ahead;
        }

        if (ahead <= ClockRepair.FurthestAhead)
        {
            return;
        }

        var start = placed.Length;
        while (start > first + 1 && placed[start - 1].At + spacing > placed[start - 2].At && placed[start - 1].At - placed[start - 2].At - spacing <= SwapReach)
        {
            start--;
        }

        // The gap tells by how much it is ahead; where there is none, the last reading cannot be younger than now.
        start = Math.Max(start - 1, first);
        var gap = start > first ? placed[start].At - placed[start - 1].At - spacing : ahead;
        var back = gap > ahead ? gap : ahead;
        for (var i = start; i < placed.Length; i++)
        {
            placed[i] = new PlacedStamp(placed[i].At - back, false);
        }
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
}
