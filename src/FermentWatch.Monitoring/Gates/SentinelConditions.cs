using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>The bottle that stands for the lot: whether it was filled, when it was looked at, what was found. Days are common practice, no source.</summary>
internal static class SentinelConditions
{
    /// <summary>The watch over a bottled lot; null while nothing is bottled.</summary>
    public static Gate? Of(GateFacts facts)
    {
        if (facts.View.Stage is not { Stage: BatchStage.BottledWatch } || facts.Last(JournalKind.Bottled) is not { } bottled)
        {
            return null;
        }

        var looks = facts.Past().Where(entry => entry.Kind is JournalKind.BottleChecked && entry.At >= bottled.At).ToList();
        return new(GateKind.Sentinel, null, ValueList.Of<GateCondition>([Filled(bottled), Soft(facts, looks), .. Days(facts, bottled, looks), .. Hot(facts)]));
    }

    private static GateCondition Filled(JournalEntry bottled) => bottled.Word("sentinel") switch
    {
        "plastic" => new("sentinel-filled", ConditionState.Met, Reason.Of("gate-sentinel-plastic", new ReasonValue.Moment(bottled.At)), bottled.At),
        "gauge" => new("sentinel-filled", ConditionState.Met, Reason.Of("gate-sentinel-gauge", new ReasonValue.Moment(bottled.At)), bottled.At),
        "none" => new("sentinel-filled", ConditionState.NotMet, Reason.Of("gate-sentinel-none"), bottled.At),
        _ => new("sentinel-filled", ConditionState.Unknown, Reason.Of("gate-sentinel-not-told"), bottled.At),
    };

    /// <summary>What the newest look that tells something found.</summary>
    private static GateCondition Soft(GateFacts facts, List<JournalEntry> looks)
    {
        const string Code = "sentinel-soft";
        if (looks.LastOrDefault(entry => entry.Word("feel") is not null || entry.Number("gauge") is not null) is not { } newest)
        {
            return new(Code, ConditionState.Unknown, Reason.Of("gate-sentinel-nothing-told"));
        }

        var at = new ReasonValue.Moment(newest.At);
        var gauges = looks.Where(entry => entry.Number("gauge") is not null).Select(entry => entry.Number("gauge")!.Value).ToList();
        if (newest.Word("feel") is not "hard" && newest.Number("gauge") is { } gauge && gauge - gauges.Min() > facts.Settings.GaugeRiseBar)
        {
            return new(Code, ConditionState.NotMet, Reason.Of("gate-sentinel-rises", new ReasonValue.Figure(gauges.Min(), 1), new ReasonValue.Figure(gauge, 1), at), newest.At);
        }

        return newest.Word("feel") switch
        {
            "hard" => new(Code, ConditionState.NotMet, Reason.Of("gate-sentinel-hard", at), newest.At),
            "firm" => new(Code, ConditionState.NotMet, Reason.Of("gate-sentinel-firm", at), newest.At),
            _ => new(Code, ConditionState.Met, Reason.Of("gate-sentinel-soft", at), newest.At),
        };
    }

    private static IEnumerable<GateCondition> Days(GateFacts facts, JournalEntry bottled, List<JournalEntry> looks)
    {
        foreach (var day in facts.Settings.Sentinel.Days.Order())
        {
            var due = bottled.At + TimeSpan.FromDays(day);
            var (count, when) = (new ReasonValue.Count(day), new ReasonValue.Moment(due));
            yield return looks.Find(entry => entry.At >= due - facts.Settings.Sentinel.Early) is { } look
                ? new("sentinel-day", ConditionState.Met, Reason.Of("gate-sentinel-looked", count, new ReasonValue.Moment(look.At)), look.At)
                : due <= facts.View.Now
                    ? new("sentinel-day", ConditionState.NotMet, Reason.Of("gate-sentinel-due", count, when), bottled.At)
                    : new("sentinel-day", ConditionState.Unknown, Reason.Of("gate-sentinel-ahead", count, when), bottled.At);
        }
    }

    private static IEnumerable<GateCondition> Hot(GateFacts facts) =>
        from duty in SentinelDueRule.Open(facts.View, facts.Settings.Sentinel)
        where duty.Subject == "hot-day"
        select new GateCondition("sentinel-day", ConditionState.NotMet, Reason.Of("gate-sentinel-hot-day", [.. duty.Because.Values]), duty.DueAt);
}
