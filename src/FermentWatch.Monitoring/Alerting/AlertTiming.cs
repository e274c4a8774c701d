namespace FermentWatch.Monitoring.Alerting;

/// <summary>How long something must hold: time that samples cover, and samples. Both must be met.</summary>
/// <param name="Time">Time; zero or more.</param>
/// <param name="Samples">Samples; zero or more.</param>
public readonly record struct Hold(TimeSpan Time, int Samples)
{
    /// <summary>No hold: acts at once.</summary>
    public static Hold None { get; }

    /// <summary>Whether it acts at once.</summary>
    public bool IsZero => Time <= TimeSpan.Zero && Samples <= 0;

    /// <summary>Whether a state has held for long enough.</summary>
    public bool Met(AlertState state) => state.Held >= Time && state.Samples >= Samples;
}

/// <summary>How a rule's condition becomes an alert and ends.</summary>
/// <param name="On">What the condition must hold for until the alert is raised.</param>
/// <param name="Off">What it must be clear for until the alert ends.</param>
/// <param name="GapLimit">A longer stretch without a known sample proves nothing: what was held begins again.</param>
/// <param name="Latched">True when only a withdrawal or a deed ends it.</param>
/// <param name="Leaky">True when a point between the limits does not begin the watch anew: its time is taken off what was held.</param>
public readonly record struct AlertTiming(Hold On, Hold Off, TimeSpan GapLimit, bool Latched = false, bool Leaky = false)
{
    /// <summary>The usual gap limit: max(4 sample intervals, 12 h).</summary>
    public static TimeSpan UsualGapLimit(TimeSpan sampleInterval) =>
        sampleInterval * 4 > TimeSpan.FromHours(12) ? sampleInterval * 4 : TimeSpan.FromHours(12);
}
