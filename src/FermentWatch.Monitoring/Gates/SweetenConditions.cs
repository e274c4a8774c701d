using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Conditions before and after sweetening. Times and limits are common practice, no source.</summary>
internal static class SweetenConditions
{
    // Water at 20 °C: gravity 20/20 °C times this is the density. [kg/L]
    private const double WaterDensity = 0.9982;

    /// <summary>A part of the rise by which weighing and measuring the volume may err. Common practice, no source.</summary>
    private const double RiseError = 0.05;

    /// <summary>Whether stabilizing is what keeps it from refermenting: then free sulfite counts as well.</summary>
    public static bool IsByStabilizing(GateFacts facts) =>
        facts.Last(JournalKind.Stabilized) is not null || OtherPaths.Chosen(facts) is not (BottlePath.PasteurizedOrFiltered or BottlePath.KeptCold);

    /// <summary>Stabilized long enough ago, or another way by which it can't referment, with its evidence.</summary>
    public static GateCondition NoRefermenting(GateFacts facts)
    {
        const string Code = "no-referment";
        if (IsByStabilizing(facts))
        {
            return GateConditions.Done(facts, Code, "gate-not-stabilized-nor-else", facts.Settings.AfterStabilizing, JournalKind.Stabilized);
        }

        if (OtherPaths.Chosen(facts) is BottlePath.KeptCold)
        {
            return OtherPaths.Cold(facts) with { Code = Code };
        }

        var done = OtherPaths.HeatedOrFiltered(facts) with { Code = Code };
        return done.State is ConditionState.Met ? done : new(Code, ConditionState.Unknown, Reason.Of("gate-heat-after-sweetening"), facts.Last(JournalKind.PathChosen)?.At);
    }

    /// <summary>Volume of today: an older one has lost lees, samples and sips.</summary>
    public static GateCondition VolumeToday(GateFacts facts) => facts.Measured("volume") is not { } measured
        ? new("volume-today", ConditionState.NotMet, Reason.Of("gate-volume-unknown"))
        : facts.View.Now - measured.At <= facts.Settings.VolumeWithin
            ? new("volume-today", ConditionState.Met, Reason.Of("gate-volume", new ReasonValue.Moment(measured.At)), measured.At)
            : new(
                "volume-today",
                ConditionState.NotMet,
                Reason.Of("gate-volume-old", new ReasonValue.Moment(measured.At), new ReasonValue.Amount(Ledger.Of(facts.View.Batch, [.. facts.Past()]).Volume?.Liters ?? 0, "L", 1)),
                measured.At);

    /// <summary>Whether somebody tasted what sweetening would do, or said that no trial is wanted.</summary>
    public static GateCondition Tried(GateFacts facts)
    {
        var end = facts.Last(JournalKind.Stabilized, JournalKind.Racked)?.At;
        return facts.Last(JournalKind.Tasted, JournalKind.JarsFilled, JournalKind.TrialDeclined) is { } answer && (end is not { } from || answer.At >= from)
            ? new("tried", ConditionState.Met, Reason.Of(answer.Kind is JournalKind.TrialDeclined ? "gate-trial-declined" : "gate-tried", new ReasonValue.Moment(answer.At)), answer.At)
            : new("tried", ConditionState.Unknown, Reason.Of("gate-tried-unknown"));
    }

    /// <summary>The gravity after sweetening is what the sugar should have made it.</summary>
    /// <remarks><b>Equation.</b> By mass: (V ρ + m) / (V + m v), v the liters that a kilogram takes up. Agreement: twice the hydrometer's error and 5 % of the rise, as a root of squares.</remarks>
    public static GateCondition AsPredicted(GateFacts facts)
    {
        const string Code = "as-predicted";
        if (facts.Last(JournalKind.Sweetened) is not { } last)
        {
            return new(Code, ConditionState.Met, Reason.Of("gate-not-sweetened"));
        }

        var sweetened = facts.Past().Where(entry => entry.Kind is JournalKind.Sweetened).ToList();
        var before = FermentableSugar.Before(facts, sweetened[0].At);
        var liters = Ledger.Of(facts.View.Batch, [.. facts.Past().Where(entry => entry.At < sweetened[0].At)]).Volume?.Liters;
        if (before is not { } was || liters is not > 0)
        {
            return new(Code, ConditionState.Unknown, Reason.Of("gate-prediction-unknown"), last.At);
        }

        var (mass, volume) = (liters.Value * WaterDensity * was.Gravity.Value, liters.Value);
        foreach (var entry in sweetened)
        {
            var kilograms = entry.Number("kilograms") ?? 0;
            (mass, volume) = (mass + kilograms, volume + (kilograms * StepFeeding.LitersPerKilogram(entry.Word("sweetener"))));
        }

        var predicted = mass / volume / WaterDensity;
        if (facts.CountingReadings().FirstOrDefault(entry => entry.At >= last.At) is not { } read)
        {
            return new(Code, ConditionState.Unknown, Reason.Of("gate-prediction-waits", new ReasonValue.Gravity(predicted)), last.At);
        }

        var error = facts.Settings.HydrometerErrorPoints / 1000;
        var allowed = Math.Sqrt((2 * error * error) + Math.Pow(RiseError * (predicted - was.Gravity.Value), 2));
        return new(
            Code,
            Math.Abs(read.Gravity!.Value.Value - predicted) <= allowed ? ConditionState.Met : ConditionState.NotMet,
            Reason.Of(
                Math.Abs(read.Gravity!.Value.Value - predicted) <= allowed ? "gate-prediction-met" : "gate-prediction-missed",
                HandSeries.Gravity(read), new ReasonValue.Gravity(predicted), new ReasonValue.Gravity(allowed, IsDifference: true)),
            read.At);
    }

    /// <summary>Watched long enough, and warm enough that a refermentation would have shown; an unknown temperature is shown and blocks nothing.</summary>
    public static GateCondition Watched(GateFacts facts)
    {
        var waited = GateConditions.Waited(facts, "sweetened-watch", facts.Settings.Waits.Sweetened, JournalKind.Sweetened);
        if (waited.State is not ConditionState.Met || waited.At is not { } since)
        {
            return waited;
        }

        var limit = new ReasonValue.Degrees(facts.Settings.WatchCelsius);
        return facts.CelsiusSince(since) is not { } celsius
            ? waited with { Because = Reason.Of("gate-watched-warmth-unknown", new ReasonValue.Moment(since), new ReasonValue.Length(facts.View.Now - since), limit) }
            : waited with
            {
                State = celsius >= facts.Settings.WatchCelsius ? ConditionState.Met : ConditionState.NotMet,
                Because = Reason.Of(celsius >= facts.Settings.WatchCelsius ? "gate-watched" : "gate-watched-cold", new ReasonValue.Moment(since), new ReasonValue.Length(facts.View.Now - since), limit, new ReasonValue.Degrees(celsius)),
            };
    }
}
