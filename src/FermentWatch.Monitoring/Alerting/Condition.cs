namespace FermentWatch.Monitoring.Alerting;

/// <summary>What one sample or tick says about an alert's condition.</summary>
public enum Condition
{
    /// <summary>It cannot be told. Silence is not an all-clear: it freezes the alert.</summary>
    Unknown = 0,

    /// <summary>Beyond the raising limit.</summary>
    Holds = 1,

    /// <summary>Between the clearing and the raising limit: keeps whatever was.</summary>
    Between = 2,

    /// <summary>Beyond the clearing limit.</summary>
    Clear = 3,

    /// <summary>The question does not arise: stage or batch over, sensor detached.</summary>
    NotApplicable = 4,
}
