using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>Inhibitions by another alert, which tells the cause.</summary>
internal static class ByAlert
{
    /// <summary>A ferment that rests in the cold or the heat: one message tells both, that of the danger where there is one.</summary>
    public static Held? Temperature(TrackedAlert alert, InhibitionFacts facts) =>
        (facts.Standing(TemperatureDangerRule.Id) ?? facts.Standing(TemperatureBandRule.Id, TemperatureDropRule.Id)) is { } cause
            ? new Held(Reason.Of("held-by-temperature"), cause.Key)
            : null;

    /// <summary>A rest that is told by sensors none of which is heard any more is none; one that fell silent beside another takes nothing away. Only what measures gravity counts.</summary>
    public static Held? Silent(InhibitionFacts facts)
    {
        var sensors = GravitySensors(facts);
        var silent = sensors.FindAll(sensor => Stands(facts, SensorSilentRule.Id, sensor));
        return silent.Count > 0 && silent.Count == sensors.Count ? Because(SensorSilentRule.Id, silent[0]) : null;
    }

    /// <summary>A rest that is told by a sensor which is not believed is none; one that has fallen silent since tells nothing any more. Only what measures gravity counts.</summary>
    public static Held? Implausible(InhibitionFacts facts) =>
        GravitySensors(facts).Find(sensor => Stands(facts, SensorImplausibleRule.Id, sensor) && !Stands(facts, SensorSilentRule.Id, sensor)) is { } doubted
            ? Because(SensorImplausibleRule.Id, doubted)
            : null;

    private static List<string> GravitySensors(InhibitionFacts facts) =>
        [.. facts.View.Sensors.Where(status => status.Quantity is QuantityKind.Gravity).Select(status => status.Sensor.Value).Distinct().Order(StringComparer.Ordinal)];

    private static bool Stands(InhibitionFacts facts, string rule, string sensor) =>
        facts.Alerts.Any(alert => alert.Standing is AlertStanding.Raised && alert.Rule == rule && alert.Subject == sensor);

    private static Held Because(string rule, string sensor) => new(Reason.Of("held-by-" + rule, new ReasonValue.Name(sensor)));

    public static Held? Stuck(TrackedAlert alert, InhibitionFacts facts) =>
        facts.Standing(FinishRules.StuckId) is not null ? new Held(Reason.Of("held-by-stuck")) : null;

    public static Held? Broker(TrackedAlert alert, InhibitionFacts facts) => facts.Pass.IsBrokerLost ? new Held(Reason.Of("held-by-broker")) : null;
}
