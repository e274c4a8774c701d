using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>When to rack, and into what. Times and losses are common practice, no source.</summary>
internal static class RackConditions
{
    /// <summary>Gravity falls by less than a tenth of its fastest, or the ferment is finished.</summary>
    public static GateCondition Slow(GateFacts facts)
    {
        var (phase, at) = (facts.View.Phase, facts.View.LatestGravity?.At);
        if (phase.Phase is Phase.Flat)
        {
            return new("slow", ConditionState.Met, phase.Because, at);
        }

        if (EndedAt(facts) is { } end)
        {
            return new("slow", ConditionState.Met, Reason.Of("gate-ended", new ReasonValue.Moment(end)), end);
        }

        if (FermentRate.Of(facts.View) is not { } rate)
        {
            return new("slow", ConditionState.Unknown, Reason.Of("gate-rate-unknown"), at);
        }

        return new(
            "slow",
            rate.Now < facts.Settings.RackBelowShare * rate.Fastest ? ConditionState.Met : ConditionState.NotMet,
            Reason.Of("gate-rate", PerDay(rate.Now), PerDay(rate.Fastest), new ReasonValue.Figure(100 * facts.Settings.RackBelowShare, 0)),
            at);
    }

    /// <summary>A planned day has come, or the lees have had their time since the end.</summary>
    public static GateCondition LeesTime(GateFacts facts)
    {
        if (PlannedRacking.Of(facts.View) is { } plan)
        {
            var hasCome = plan.Day <= facts.View.Now;
            return new("lees-time", hasCome ? ConditionState.Met : ConditionState.NotMet, Reason.Of(hasCome ? "gate-rack-planned" : "gate-rack-planned-for", new ReasonValue.Moment(plan.Day)), plan.PlannedAt);
        }

        if (EndedAt(facts) is not { } end)
        {
            return new("lees-time", ConditionState.Unknown, Reason.Of("gate-rack-no-end"));
        }

        if (IsRackedSince(facts, end - TimeSpan.FromDays(2)))
        {
            var racked = facts.Last(JournalKind.Racked)!.At;
            return new("lees-time", ConditionState.Met, Reason.Of("gate-rack-done", new ReasonValue.Moment(racked)), racked);
        }

        var isClean = facts.View.Batch.Kind is FermentKind.Mead && facts.Last(JournalKind.FruitIn) is null;
        var (least, most) = isClean ? (facts.Settings.CleanLeesAtLeast, facts.Settings.Care.CleanLees) : (facts.Settings.GrossLeesAtLeast, facts.Settings.Care.GrossLees);
        var (from, until) = (end + least, end + most);
        ReasonValue[] values = [new ReasonValue.Moment(end), new ReasonValue.Moment(from), new ReasonValue.Moment(until)];
        return facts.View.Now < from ? new("lees-time", ConditionState.NotMet, Reason.Of(isClean ? "gate-lees-clean-wait" : "gate-lees-gross-wait", values), end)
            : new("lees-time", ConditionState.Met, Reason.Of(facts.View.Now <= until ? "gate-lees-time" : "gate-lees-late", values), end);
    }

    /// <summary>Volume and headspace of the receiving vessel are known.</summary>
    public static GateCondition Vessel(GateFacts facts) => Plan(facts) is not { } plan
        ? new("vessel", ConditionState.Unknown, Reason.Of("gate-vessel-unknown"))
        : plan.Number("receiving-headspace") is not { } headspace
            ? new("vessel", ConditionState.Unknown, Reason.Of("gate-vessel-no-headspace", new ReasonValue.Amount(plan.Number("receiving-vessel")!.Value, "L", 2)), plan.At)
            : new("vessel", ConditionState.Met, Reason.Of("gate-vessel", new ReasonValue.Amount(plan.Number("receiving-vessel")!.Value, "L", 2), new ReasonValue.Amount(headspace, "mL", 0)), plan.At);

    /// <summary>How much is missing to the stated headspace, after what stays with the lees; null where it can't be computed.</summary>
    /// <remarks><b>Equation.</b> vessel − headspace − volume · (1 − loss), for the least and the most loss.</remarks>
    public static Reason? TopUp(GateFacts facts)
    {
        if (Plan(facts) is not { } plan || plan.Number("receiving-headspace") is not { } headspace || Ledger.Of(facts.View.Batch, [.. facts.Past()]).Volume is not { } volume)
        {
            return null;
        }

        var wanted = plan.Number("receiving-vessel")!.Value - (headspace / 1000);
        var (most, least) = (volume.Liters * (1 - facts.Settings.LeastLoss), volume.Liters * (1 - facts.Settings.MostLoss));
        ReasonValue[] values =
        [
            new ReasonValue.Amount(volume.Liters, "L", 1), new ReasonValue.Figure(100 * facts.Settings.LeastLoss, 0), new ReasonValue.Figure(100 * facts.Settings.MostLoss, 0),
            new ReasonValue.Amount(least, "L", 1), new ReasonValue.Amount(most, "L", 1), new ReasonValue.Amount(wanted, "L", 2),
        ];
        return wanted <= least ? Reason.Of("gate-top-up-over", [.. values, Milliliters(least - wanted), Milliliters(most - wanted)])
            : wanted < most ? Reason.Of("gate-top-up-either", [.. values, Milliliters(wanted - least), Milliliters(most - wanted)])
            : Reason.Of("gate-top-up", [.. values, Milliliters(wanted - most), Milliliters(wanted - least)]);
    }

    /// <summary>Since when it has ended: by the hand series that is flat, else by the forecast once it calls the ferment finished.</summary>
    internal static EventTime? EndedAt(GateFacts facts) => HandSeries.FlatSince(facts)
        ?? (facts.View.Stop.Finished >= 0.9 && facts.View.Forecast?.Finish.P50 is { } finish && finish <= facts.View.Now ? finish : null);

    private static JournalEntry? Plan(GateFacts facts)
    {
        var plan = facts.Past().LastOrDefault(entry => entry.Number("receiving-vessel") is not null);
        return plan is null || IsRackedSince(facts, plan.At) ? null : plan;
    }

    private static bool IsRackedSince(GateFacts facts, EventTime from) => facts.Last(JournalKind.Racked) is { } racked && racked.At >= from;

    private static ReasonValue.Gravity PerDay(double points) => new(points / 1000, IsDifference: true);

    private static ReasonValue.Amount Milliliters(double liters) => new(Math.Round(liters * 1000 / 10) * 10, "mL", 0);
}
