using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>What a series of hand readings shows by itself.</summary>
/// <remarks>A sample that is said not to have been degassed shows nothing flat, since bubbles of CO2 lift a hydrometer (common practice, no source); one that reads
/// lower all the same shows that it still falls.</remarks>
internal static class HandSeries
{
    /// <summary>Whether the newest hand readings agree over the time that it takes.</summary>
    public static GateCondition Flat(GateFacts facts)
    {
        var readings = facts.CountingReadings().ToList();
        if (readings.Count == 0)
        {
            return None(facts, "hand-flat");
        }

        var newest = readings[^1];
        var agreeing = Agreeing(readings, facts.Settings.AgreePoints);
        if (Falls(facts, agreeing, "hand-flat") is { } falls)
        {
            return falls;
        }

        var celsius = facts.CelsiusSince(agreeing[0].At);
        var isSlow = facts.View.Batch.Kind is FermentKind.Mead || celsius < facts.Settings.ColdCelsius;
        var between = isSlow ? facts.Settings.BetweenReadingsOfMead : facts.Settings.BetweenReadings;
        var span = newest.At - agreeing[0].At;
        if (agreeing.Count < 2 || span < between)
        {
            return Gassy(facts, newest, "hand-flat")
                ?? new GateCondition("hand-flat", ConditionState.NotMet, Reason.Of("gate-hand-again", Gravity(newest), new ReasonValue.Moment(agreeing[0].At + between)), newest.At);
        }

        // An unknown temperature is shown and blocks nothing.
        var (count, over) = (new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span));
        return new GateCondition(
            "hand-flat",
            ConditionState.Met,
            celsius is null && span < facts.Settings.BetweenReadingsOfMead
                ? Reason.Of(
                    "gate-hand-agree-cold-unknown", count, over, Gravity(newest), new ReasonValue.Degrees(facts.Settings.ColdCelsius), new ReasonValue.Length(facts.Settings.BetweenReadingsOfMead),
                    Samples(agreeing))
                : Reason.Of("gate-hand-agree", count, over, Gravity(newest), Samples(agreeing)),
            newest.At);
    }

    /// <summary>The first of the newest readings that agree over the time that it takes; null where none do.</summary>
    public static EventTime? FlatSince(GateFacts facts) => Flat(facts).State is ConditionState.Met ? Agreeing([.. facts.CountingReadings()], facts.Settings.AgreePoints)[0].At : null;

    /// <summary>Three readings that agree over at least two weeks: what bottling dry asks for.</summary>
    public static GateCondition ThreeFlat(GateFacts facts)
    {
        var readings = facts.CountingReadings().ToList();
        if (readings.Count == 0)
        {
            return None(facts, "three-flat");
        }

        var agreeing = Agreeing(readings, facts.Settings.AgreePoints);
        if (Falls(facts, agreeing, "three-flat") is { } falls)
        {
            return falls;
        }

        var span = readings[^1].At - agreeing[0].At;
        if (agreeing.Count == 1)
        {
            return new GateCondition("three-flat", ConditionState.NotMet, Reason.Of("gate-hand-one", new ReasonValue.Length(facts.Settings.DryAndFlatOver)), readings[^1].At);
        }

        return agreeing.Count >= 3 && span >= facts.Settings.DryAndFlatOver
            ? new GateCondition("three-flat", ConditionState.Met, Reason.Of("gate-hand-agree", new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span), Gravity(readings[^1]), Samples(agreeing)), readings[^1].At)
            : Gassy(facts, readings[^1], "three-flat")
                ?? new GateCondition("three-flat", ConditionState.NotMet, Reason.Of("gate-hand-few", new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span), new ReasonValue.Length(facts.Settings.DryAndFlatOver)), readings[^1].At);
    }

    /// <summary>What the entries tell of the gas in their samples.</summary>
    internal static ReasonValue.Words Samples(params IEnumerable<JournalEntry> readings) =>
        new(Reason.Of(readings.All(entry => entry.Word("degassed") == "yes") ? "gate-samples-degassed" : "gate-samples-untold"));

    internal static ReasonValue.Gravity Gravity(JournalEntry entry) => new(entry.Gravity!.Value.Value);

    private static GateCondition None(GateFacts facts, string code) => facts.HandReadings().LastOrDefault() is { } gassy
        ? new GateCondition(code, ConditionState.Unknown, OfGas(gassy), gassy.At)
        : new GateCondition(code, ConditionState.Unknown, Reason.Of("gate-no-hand-reading"));

    /// <summary>Why the newest reading does not count where one that counts is missing; null where it counts.</summary>
    private static GateCondition? Gassy(GateFacts facts, JournalEntry newest, string code) => facts.HandReadings().Last() is { } last && last.At > newest.At
        ? new GateCondition(code, ConditionState.NotMet, OfGas(last), last.At)
        : null;

    internal static Reason OfGas(JournalEntry gassy) => Reason.Of("gate-hand-gassy", Gravity(gassy), new ReasonValue.Moment(gassy.At));

    /// <summary>That a sample with gas in it reads lower than those that agree, although gas lifts; null where none does.</summary>
    private static GateCondition? Falls(GateFacts facts, List<JournalEntry> agreeing, string code) => facts.HandReadings().LastOrDefault(entry =>
        GateFacts.IsGassy(entry) && entry.At > agreeing[0].At && entry.Gravity!.Value.Points < agreeing[^1].Gravity!.Value.Points - facts.Settings.AgreePoints - 1e-6) is { } lower
        ? new GateCondition(code, ConditionState.NotMet, Reason.Of("gate-hand-gassy-lower", Gravity(lower), new ReasonValue.Moment(lower.At)), lower.At)
        : null;

    /// <summary>The newest readings that differ from the newest one by no more than the limit, without a break.</summary>
    private static List<JournalEntry> Agreeing(List<JournalEntry> readings, double points)
    {
        var newest = readings[^1].Gravity!.Value.Points;
        var first = readings.Count - 1;
        // A hair of slack: readings are rounded to whole points.
        while (first > 0 && Math.Abs(readings[first - 1].Gravity!.Value.Points - newest) <= points + 1e-6)
        {
            first--;
        }

        return readings.GetRange(first, readings.Count - first);
    }
}
