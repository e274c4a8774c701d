using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Monitoring.Gates;

/// <summary>The conditions that gates are made of.</summary>
internal static class GateConditions
{
    /// <summary>A packet states what its yeast bears about ±0.5. [% vol] Common practice, no source.</summary>
    private const double ToleranceError = 0.5;

    /// <summary>At its end: by a forced test, a sugar test, what the yeast bears, or the forecast.</summary>
    public static GateCondition NotStuck(GateFacts facts)
    {
        if (facts.Last(JournalKind.ForcedTest) is { Gravity: { } end } test && facts.View.LatestGravity is { } now)
        {
            var left = now.Value.Points - end.Points;
            return new(
                "not-stuck",
                left <= 2 ? ConditionState.Met : ConditionState.NotMet,
                Reason.Of("gate-forced-test", new ReasonValue.Gravity(end.Value), new ReasonValue.Gravity(now.Value.Value)),
                test.At);
        }

        if (facts.Measured("sugar-test") is { } sugar && facts.IsFresh(sugar.At) && sugar.Number("sugar-test") <= facts.Settings.DryGramsPerLiter)
        {
            return new("not-stuck", ConditionState.Met, Reason.Of("gate-not-stuck-dry", new ReasonValue.Figure(sugar.Number("sugar-test")!.Value, 1), new ReasonValue.Moment(sugar.At)), sugar.At);
        }

        if (facts.View.Batch.Tolerance is { } tolerance && facts.View.Alcohol is { } alcohol && alcohol.Value.Percent >= tolerance.Percent - ToleranceError)
        {
            return new("not-stuck", ConditionState.Met, Reason.Of("gate-at-tolerance", new ReasonValue.Figure(alcohol.Value.Percent, 1), new ReasonValue.Figure(tolerance.Percent, 1)), facts.View.LatestGravity?.At);
        }

        var stop = facts.View.Stop;
        return stop.IsStuck ? new("not-stuck", ConditionState.NotMet, Reason.Of("gate-stuck-odds", new ReasonValue.Odds(stop.Stuck)), facts.View.Forecast?.AsOf)
            : stop.Finished >= 0.9 ? new("not-stuck", ConditionState.Met, Reason.Of("gate-finished-odds", new ReasonValue.Odds(stop.Finished)), facts.View.Forecast?.AsOf)
            : new("not-stuck", ConditionState.Unknown, Reason.Of("gate-end-unknown"), facts.View.Forecast?.AsOf);
    }

    public static GateCondition Malolactic(GateFacts facts, bool mustBeOver)
    {
        var started = facts.Last(JournalKind.MalolacticStarted);
        var finished = facts.Last(JournalKind.MalolacticFinished);
        return finished is not null && (started is null || finished.At >= started.At)
            ? new("malolactic", ConditionState.Met, Reason.Of("gate-malolactic-over", new ReasonValue.Moment(finished.At)), finished.At)
            : started is not null
                ? new("malolactic", ConditionState.NotMet, Reason.Of("gate-malolactic-runs", new ReasonValue.Moment(started.At)), started.At)
                : facts.Last(JournalKind.MalolacticPrevented) is { } prevented
                ? new("malolactic", ConditionState.Met, Reason.Of("gate-malolactic-prevented", new ReasonValue.Moment(prevented.At)), prevented.At)
                : new("malolactic", mustBeOver && facts.View.Batch.Kind is FermentKind.Wine ? ConditionState.Unknown : ConditionState.Met, mustBeOver && facts.View.Batch.Kind is not FermentKind.Mead
                    ? Reason.Of("gate-malolactic-none-yet", new ReasonValue.Figure(2 * CarbonDioxideYield.PerMalicAcid, 2))
                    : Reason.Of("gate-malolactic-none"));
    }

    public static GateCondition Racked(GateFacts facts) => facts.Last(JournalKind.Racked) is { } racked
        ? new("racked", ConditionState.Met, Reason.Of("gate-racked", new ReasonValue.Moment(racked.At)), racked.At)
        : new("racked", ConditionState.NotMet, Reason.Of("gate-not-racked"));

    public static GateCondition Clear(GateFacts facts) => facts.Last(JournalKind.Clarity) is { } seen
        ? new("clear", seen.Word("clarity") == "clear" ? ConditionState.Met : ConditionState.NotMet, Reason.Of(seen.Word("clarity") == "clear" ? "gate-clear" : "gate-not-clear", new ReasonValue.Moment(seen.At)), seen.At)
        : new("clear", ConditionState.Unknown, Reason.Of("gate-clarity-unknown"));

    public static GateCondition PhKnown(GateFacts facts) => facts.Measured("ph") is { } entry
        ? new("ph-known", facts.IsFresh(entry.At) ? ConditionState.Met : ConditionState.NotMet, Reason.Of("gate-ph", new ReasonValue.Figure(entry.Number("ph")!.Value, 2), new ReasonValue.Moment(entry.At)), entry.At)
        : new("ph-known", ConditionState.Unknown, Reason.Of("gate-ph-unknown"));

    /// <summary>Free sulfite for the pH of today; without a kit it is met by practice only, and says so.</summary>
    /// <param name="facts">What is known.</param>
    /// <param name="since">A measurement from before does not count; null for none.</param>
    public static GateCondition FreeSulfite(GateFacts facts, EventTime? since = null)
    {
        if (facts.Measured("free-sulfite") is not { } free || !facts.IsFresh(free.At) || free.At < since)
        {
            return facts.View.Journal.LastOrDefault(entry => entry.At <= facts.View.Now && entry.Number("sulfite") is > 0) is { } dosed && facts.IsFresh(dosed.At)
                ? new("free-sulfite", ConditionState.Met, Reason.Of("gate-sulfite-by-practice", new ReasonValue.Moment(dosed.At)), dosed.At)
                : new("free-sulfite", ConditionState.Unknown, Reason.Of("gate-sulfite-unknown", new ReasonValue.Length(facts.Settings.MeasuredWithin)));
        }

        var measured = free.Number("free-sulfite")!.Value;
        if (facts.Measured("ph") is not { } ph)
        {
            return new("free-sulfite", ConditionState.Unknown, Reason.Of("gate-ph-unknown"), free.At);
        }

        var needed = SulfurDioxide.FreeNeeded(
            MassConcentration.FromMilligramsPerLiter(facts.Settings.MolecularMilligramsPerLiter), Ph.FromValue(ph.Number("ph")!.Value)).Value.MilligramsPerLiter;
        return new(
            "free-sulfite",
            measured >= needed ? ConditionState.Met : ConditionState.NotMet,
            Reason.Of("gate-sulfite", new ReasonValue.Figure(measured, 0), new ReasonValue.Figure(needed, 0), new ReasonValue.Figure(ph.Number("ph")!.Value, 2)),
            free.At);
    }

    public static GateCondition Waited(GateFacts facts, string code, TimeSpan wait, params ReadOnlySpan<JournalKind> kinds)
    {
        if (facts.Last(kinds) is not { } entry)
        {
            return new(code, ConditionState.Met, Reason.Of("gate-nothing-to-wait-for"));
        }

        var until = entry.At + wait;
        return until <= facts.View.Now
            ? new(code, ConditionState.Met, Reason.Of("gate-waited", new ReasonValue.Moment(entry.At), new ReasonValue.Length(facts.View.Now - entry.At)), entry.At)
            : new(code, ConditionState.NotMet, Reason.Of("gate-wait-until", new ReasonValue.Moment(until)), entry.At);
    }

    public static GateCondition Done(GateFacts facts, string code, string missing, TimeSpan wait, params ReadOnlySpan<JournalKind> kinds) =>
        facts.Last(kinds) is null ? new(code, ConditionState.NotMet, Reason.Of(missing)) : Waited(facts, code, wait, kinds);

    public static GateCondition SugarTest(GateFacts facts) => facts.Measured("sugar-test") is { } entry
        ? new(
            "sugar-test",
            !facts.IsFresh(entry.At) || entry.Number("sugar-test")!.Value > facts.Settings.DryGramsPerLiter ? ConditionState.NotMet : ConditionState.Met,
            Reason.Of("gate-sugar", new ReasonValue.Figure(entry.Number("sugar-test")!.Value, 1), new ReasonValue.Figure(facts.Settings.DryGramsPerLiter, 1), new ReasonValue.Moment(entry.At)),
            entry.At)
        : new("sugar-test", ConditionState.Unknown, Reason.Of("gate-sugar-unknown"));

    public static GateCondition VolumeKnown(GateFacts facts) => facts.Measured("volume") is { } entry
        ? new("volume", ConditionState.Met, Reason.Of("gate-volume", new ReasonValue.Moment(entry.At)), entry.At)
        : new("volume", ConditionState.NotMet, Reason.Of("gate-volume-unknown"));
}
