namespace FermentWatch.Service.Care;

/// <summary>How a part of the service is.</summary>
public enum Condition
{
    /// <summary>As it should be.</summary>
    Ok,

    /// <summary>Works, and somebody should look.</summary>
    Attention,

    /// <summary>The service cannot do its work.</summary>
    Failing,
}

/// <summary>One part of the service with its condition. Holds no name of a sensor, a batch or a person: everybody may read it.</summary>
/// <param name="Name">Its name for programs, such as <c>broker</c>.</param>
/// <param name="Condition">How it is.</param>
/// <param name="Says">Why, in a sentence.</param>
public sealed record HealthCheck(string Name, Condition Condition, string Says);

/// <summary>How the service is as a whole.</summary>
/// <param name="Checks">Its parts in a fixed order.</param>
public sealed record HealthReport(IReadOnlyList<HealthCheck> Checks)
{
    /// <summary>Whether it can do its work.</summary>
    public bool IsReady => Checks.All(check => check.Condition != Condition.Failing);
}
