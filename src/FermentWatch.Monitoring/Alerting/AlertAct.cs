namespace FermentWatch.Monitoring.Alerting;

/// <summary>What somebody says about an alert. Written into links by name: never rename.</summary>
public enum AlertAct
{
    /// <summary>I am on it: no repeats any more.</summary>
    OnIt = 1,

    /// <summary>Not now: quiet for <see cref="AlertSnooze.Usual"/>.</summary>
    Snooze = 2,

    /// <summary>It is wrong: counted against the rule, no repeats any more.</summary>
    Wrong = 3,

    /// <summary>Not now: quiet for an hour.</summary>
    SnoozeHour = 4,

    /// <summary>Not now: quiet until 08:00 on the reader's wall clock.</summary>
    SnoozeMorning = 5,

    /// <summary>Not now: quiet until something else happens to the batch, an entry of the journal or another alert.</summary>
    SnoozeEvent = 6,
}
