using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// What silences a series makes again and again. A sensor at the edge of its radio's reach loses a few readings in a row every day; each such
/// pause, told, would be noise. Only what it did <see cref="SensorSilentSettings.HabitPauses"/> times of late is a habit.
/// </summary>
internal static class SilenceHabit
{
    // Far more than a week of a bad sensor needs for its habit to be seen.
    private const int MostKept = 24;

    /// <summary>The pauses that are known after a pass. One that has just ended counts as long as it was last seen to be, which is never too long.</summary>
    /// <param name="was">What was known before; null for a series that is new.</param>
    /// <param name="isOver">Whether a reading ended the silence in this pass.</param>
    /// <param name="usual">The limit of a series without habits.</param>
    /// <param name="listened">Time listened in all.</param>
    /// <param name="limits">How a habit is counted.</param>
    public static ValueList<Pause> Note(SeriesListening? was, bool isOver, TimeSpan usual, TimeSpan listened, SensorSilentSettings limits)
    {
        if (was is null)
        {
            return ValueList.Of<Pause>();
        }

        var isPause = isOver && was.Silent >= usual / 2;
        return !isPause && was.Pauses.All(pause => listened - pause.EndedAt <= limits.HabitWithin)
            ? was.Pauses
            : ValueList.Of(was.Pauses
                .Where(pause => listened - pause.EndedAt <= limits.HabitWithin)
                .Concat(isPause ? [new Pause(listened, was.Silent)] : [])
                .TakeLast(MostKept));
    }

    /// <summary>How long a pause is by habit, half an interval for its jitter included, or null when that is no more than the usual limit.</summary>
    /// <param name="series">The series with its pauses.</param>
    /// <param name="usual">The limit of a series without habits.</param>
    /// <param name="limits">How a habit is counted.</param>
    public static TimeSpan? Of(WatchedSeries series, TimeSpan usual, SensorSilentSettings limits)
    {
        if (series.Is.Pauses.Count < limits.HabitPauses)
        {
            return null;
        }

        var often = series.Is.Pauses.Select(pause => pause.Length).OrderDescending().ElementAt(limits.HabitPauses - 1) + (series.Interval / 2);
        var bounded = often < limits.HabitAtMost ? often : limits.HabitAtMost;
        return bounded > usual ? bounded : null;
    }
}
