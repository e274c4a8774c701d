using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>Inhibitions by another alert, which tells the cause.</summary>
internal static class ByAlert
{
    /// <summary>A ferment that rests in the cold or the heat: one message tells both. Danger speaks for itself.</summary>
    public static Held? Temperature(TrackedAlert alert, InhibitionFacts facts)
    {
        if (facts.Standing(TemperatureDangerRule.Id) is not null)
        {
            return new Held(Reason.Of("held-by-temperature"));
        }

        return facts.Standing(TemperatureBandRule.Id, TemperatureDropRule.Id) is { } cause ? new Held(Reason.Of("held-by-temperature"), cause.Key) : null;
    }

    /// <summary>A rest that is told by sensors none of which is heard any more is none; one that fell silent beside another takes nothing away. Only what measures gravity counts.</summary>
    public static Held? Silent(InhibitionFacts facts)
    {
        var sensors = facts.View.Sensors.Where(status => status.Quantity is QuantityKind.Gravity).Select(status => status.Sensor.Value).ToHashSet(StringComparer.Ordinal);
        var silent = facts.Alerts.Where(alert => alert is { Standing: AlertStanding.Raised, Rule: SensorSilentRule.Id } && sensors.Contains(alert.Subject)).Select(alert => alert.Subject).ToHashSet(StringComparer.Ordinal);
        return silent.Count > 0 && silent.Count == sensors.Count ? new Held(Reason.Of("held-by-" + SensorSilentRule.Id, new ReasonValue.Name(silent.Order(StringComparer.Ordinal).First()))) : null;
    }

    /// <summary>A rest that is told by a sensor which is not believed is none. Only what measures gravity counts.</summary>
    public static Held? Implausible(InhibitionFacts facts)
    {
        foreach (var alert in facts.Alerts)
        {
            if (alert is { Standing: AlertStanding.Raised, Rule: SensorImplausibleRule.Id }
                && facts.View.Sensors.Any(status => status.Sensor.Value == alert.Subject && status.Quantity is QuantityKind.Gravity))
            {
                return new Held(Reason.Of("held-by-" + SensorImplausibleRule.Id, new ReasonValue.Name(alert.Subject)));
            }
        }

        return null;
    }

    public static Held? Stuck(TrackedAlert alert, InhibitionFacts facts) =>
        facts.Standing(FinishRules.StuckId) is not null ? new Held(Reason.Of("held-by-stuck")) : null;

    public static Held? Broker(TrackedAlert alert, InhibitionFacts facts) => facts.Pass.IsBrokerLost ? new Held(Reason.Of("held-by-broker")) : null;
}
