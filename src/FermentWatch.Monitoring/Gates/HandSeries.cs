using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>What a series of hand readings shows by itself.</summary>
internal static class HandSeries
{
    /// <summary>Whether the newest hand readings agree over the time that it takes.</summary>
    public static GateCondition Flat(GateFacts facts)
    {
        var readings = facts.HandReadings().ToList();
        if (readings.Count == 0)
        {
            return new GateCondition("hand-flat", ConditionState.Unknown, Reason.Of("gate-no-hand-reading"));
        }

        var newest = readings[^1];
        var agreeing = Agreeing(readings, facts.Settings.AgreePoints);
        var celsius = facts.CelsiusSince(agreeing[0].At);
        var isSlow = facts.View.Batch.Kind is FermentKind.Mead || celsius < facts.Settings.ColdCelsius;
        var between = isSlow ? facts.Settings.BetweenReadingsOfMead : facts.Settings.BetweenReadings;
        var span = newest.At - agreeing[0].At;
        if (agreeing.Count < 2 || span < between)
        {
            return new GateCondition("hand-flat", ConditionState.NotMet, Reason.Of("gate-hand-again", Gravity(newest), new ReasonValue.Moment(agreeing[0].At + between)), newest.At);
        }

        // An unknown temperature is shown and blocks nothing.
        var (count, over) = (new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span));
        return new GateCondition(
            "hand-flat",
            ConditionState.Met,
            celsius is null && span < facts.Settings.BetweenReadingsOfMead
                ? Reason.Of("gate-hand-agree-cold-unknown", count, over, Gravity(newest), new ReasonValue.Degrees(facts.Settings.ColdCelsius), new ReasonValue.Length(facts.Settings.BetweenReadingsOfMead))
                : Reason.Of("gate-hand-agree", count, over, Gravity(newest)),
            newest.At);
    }

    /// <summary>The first of the newest readings that agree over the time that it takes; null where none do.</summary>
    public static EventTime? FlatSince(GateFacts facts) => Flat(facts).State is ConditionState.Met ? Agreeing([.. facts.HandReadings()], facts.Settings.AgreePoints)[0].At : null;

    /// <summary>Three readings that agree over at least two weeks: what bottling dry asks for.</summary>
    public static GateCondition ThreeFlat(GateFacts facts)
    {
        var readings = facts.HandReadings().ToList();
        if (readings.Count == 0)
        {
            return new GateCondition("three-flat", ConditionState.Unknown, Reason.Of("gate-no-hand-reading"));
        }

        var agreeing = Agreeing(readings, facts.Settings.AgreePoints);
        var span = readings[^1].At - agreeing[0].At;
        if (agreeing.Count == 1)
        {
            return new GateCondition("three-flat", ConditionState.NotMet, Reason.Of("gate-hand-one", new ReasonValue.Length(facts.Settings.DryAndFlatOver)), readings[^1].At);
        }

        return agreeing.Count >= 3 && span >= facts.Settings.DryAndFlatOver
            ? new GateCondition("three-flat", ConditionState.Met, Reason.Of("gate-hand-agree", new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span), Gravity(readings[^1])), readings[^1].At)
            : new GateCondition("three-flat", ConditionState.NotMet, Reason.Of("gate-hand-few", new ReasonValue.Count(agreeing.Count), new ReasonValue.Length(span), new ReasonValue.Length(facts.Settings.DryAndFlatOver)), readings[^1].At);
    }

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

    internal static ReasonValue.Gravity Gravity(JournalEntry entry) => new(entry.Gravity!.Value.Value);
}
