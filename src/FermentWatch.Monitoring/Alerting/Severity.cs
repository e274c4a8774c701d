namespace FermentWatch.Monitoring.Alerting;

/// <summary>How much an alert asks of the maker. Stored by number: never renumber.</summary>
public enum Severity
{
    /// <summary>For the digest.</summary>
    Info = 0,

    /// <summary>Something to do, in its time.</summary>
    Action = 1,

    /// <summary>Something is wrong.</summary>
    Warning = 2,

    /// <summary>Now.</summary>
    Urgent = 3,
}
