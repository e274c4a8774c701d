using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>
/// What somebody who is no maker is told to do while the maker is away: the evidence, then plain steps with their caution, and nothing that
/// needs a judgment of the wine. Common practice, no source.
/// </summary>
public static class HelperSteps
{
    /// <summary>The body of a notice as its helper gets it.</summary>
    /// <param name="rule">Id of the rule.</param>
    /// <param name="body">The body as the maker gets it; its first sentence is the evidence.</param>
    public static ValueList<Reason> Of(string rule, ValueList<Reason> body)
    {
        var because = body[0];
        return ValueList.Of(because, Reason.Of(Steps(rule, because.Code)));
    }

    private static string Steps(string rule, string because) => (rule, because) switch
    {
        (TemperatureDangerRule.Id, "temperature-freezing" or "stuck-in-frost") => "helper-warm",
        (TemperatureDangerRule.Id, _) => "helper-cool",
        (FermentingAgainRule.Id, _) => "helper-pressure",
        (SensorSilentRule.Id, _) => "helper-look-at-sensor",
        _ => "helper-look",
    };
}
