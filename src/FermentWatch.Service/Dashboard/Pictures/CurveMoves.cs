using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>A stretch of time of a picture.</summary>
/// <param name="From">Its left end.</param>
/// <param name="Until">Its right end, later.</param>
public readonly record struct Stretch(EventTime From, EventTime Until)
{
    /// <summary>How long it is.</summary>
    public TimeSpan Length => Until - From;
}

/// <summary>The ways on from a stretch of a curve: earlier, later, closer, wider. Each is a link, so that it works without a script.</summary>
internal static class CurveMoves
{
    /// <summary>Closer than this there is nothing more to see: readings stand a quarter of an hour apart.</summary>
    public static readonly TimeSpan Shortest = TimeSpan.FromHours(6);

    /// <summary>Half a picture to the left; null at the left end.</summary>
    public static Stretch? Earlier(Stretch shown, Stretch whole) => Shifted(shown, whole, -(shown.Length / 2));

    /// <summary>Half a picture to the right; null at the right end.</summary>
    public static Stretch? Later(Stretch shown, Stretch whole) => Shifted(shown, whole, shown.Length / 2);

    /// <summary>Half as much around the middle; null where it is as close as can be.</summary>
    public static Stretch? Closer(Stretch shown, Stretch whole) => shown.Length <= Shortest ? null
        : Around(Middle(shown), shown.Length / 2 > Shortest ? shown.Length / 2 : Shortest, whole);

    /// <summary>Twice as much around the middle; null where all is shown.</summary>
    public static Stretch? Wider(Stretch shown, Stretch whole) => shown.Length >= whole.Length ? null : Around(Middle(shown), shown.Length * 2, whole);

    /// <summary>A stretch as asked for in an address, kept inside the whole and not shorter than <see cref="Shortest"/>; null where it asks for nothing of it.</summary>
    public static Stretch? Kept(EventTime from, EventTime until, Stretch whole)
    {
        if (until <= from || from >= whole.Until || until <= whole.From)
        {
            return null;
        }

        var length = until - from < Shortest ? Shortest : until - from;
        return Around(from + ((until - from) / 2), length, whole);
    }

    private static Stretch? Shifted(Stretch shown, Stretch whole, TimeSpan by)
    {
        if (by < TimeSpan.Zero ? shown.From <= whole.From : shown.Until >= whole.Until)
        {
            return null;
        }

        return Around(Middle(shown) + by, shown.Length, whole);
    }

    private static EventTime Middle(Stretch shown) => shown.From + (shown.Length / 2);

    private static Stretch Around(EventTime middle, TimeSpan length, Stretch whole)
    {
        if (length >= whole.Length)
        {
            return whole;
        }

        var from = middle - (length / 2);
        from = from < whole.From ? whole.From : from + length > whole.Until ? whole.Until - length : from;
        return new Stretch(from, from + length);
    }
}
