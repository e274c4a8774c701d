using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Every rule. A new one is a file in Rules, a line here, and its texts.</summary>
public static class AlertRuleCatalog
{
    /// <summary>The rules in the order in which they are shown.</summary>
    public static ValueList<AlertRule> All { get; } = ValueList.Of<AlertRule>(
        TemperatureBandRule.Rule,
        TemperatureDangerRule.Rule,
        TemperatureDropRule.Rule,
        NoStartRule.Rule,
        FinishRules.Stuck,
        FinishRules.Ready,
        FinishRules.Withdrawn,
        AcidityLowRule.Rule,
        FermentingAgainRule.Rule,
        SugarMixingRule.Rule,
        SensorImplausibleRule.Rule,
        StepFoundRule.Rule,
        NutrientDueRule.Rule,
        BatteryLowRule.Rule,
        ForecastMovedRule.Rule,
        WaitingOverRule.Rule,
        SentinelDueRule.Rule,
        CareDueRule.Rule,
        SensorSilentRule.Rule);

    /// <summary>The rule of that id.</summary>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static AlertRule Named(string id) =>
        All.FirstOrDefault(rule => rule.Id == id)
        ?? throw new ArgumentException($"There is no alert rule '{id}'. Rules: {string.Join(", ", All.Select(rule => rule.Id))}.", nameof(id));
}
