using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>Every inhibition. A new one is a line here, its words, and a story that changes when the line is removed.</summary>
public static class InhibitionCatalog
{
    // What handling a vessel causes: everything that stands on its sensors. Duties of the journal are told all the same.
    private static readonly ValueList<string> OnSensors = ValueList.Of<string>(
        TemperatureBandRule.Id, TemperatureDangerRule.Id, TemperatureDropRule.Id, NoStartRule.Id, FinishRules.StuckId, FinishRules.ReadyId,
        FinishRules.WithdrawnId, AcidityLowRule.Id, FermentingAgainRule.Id, SensorImplausibleRule.Id, SensorSilentRule.Id, StepFoundRule.Id);

    private static readonly ValueList<string> Stuck = ValueList.Of<string>(FinishRules.StuckId);

    /// <summary>The lines in the order in which they are asked; the first that holds an alert back is the one that is shown.</summary>
    public static ValueList<Inhibition> All { get; } = ValueList.Of<Inhibition>(
        new("work-on-the-vessel", OnSensors, ByVessel.Work),
        new("stuck-yields-to-temperature", Stuck, ByAlert.Temperature),
        new("stuck-yields-to-silent-sensor", Stuck, (_, facts) => ByAlert.Silent(facts)),
        new("stuck-yields-to-implausible-sensor", Stuck, (_, facts) => ByAlert.Implausible(facts)),
        new("stuck-yields-after-handling", Stuck, ByVessel.Stirred),
        new("ready-yields-to-stuck", ValueList.Of<string>(FinishRules.ReadyId), ByAlert.Stuck),
        // Danger is never held back by a deed: it is told until it is over.
        new("temperature-yields-after-handled", ValueList.Of<string>(TemperatureBandRule.Id, TemperatureDropRule.Id), ByVessel.Recovering),
        new("silent-yields-to-broker", ValueList.Of<string>(SensorSilentRule.Id), ByAlert.Broker));

    /// <summary>What holds an alert back now: the first of the lines that does, or null.</summary>
    internal static Held? Of(TrackedAlert alert, InhibitionFacts facts)
    {
        foreach (var line in facts.Settings.Inhibitions)
        {
            if (line.Silences.Contains(alert.Rule) && line.Of(alert, facts) is { } held)
            {
                return held;
            }
        }

        return null;
    }
}
