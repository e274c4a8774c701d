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
}
