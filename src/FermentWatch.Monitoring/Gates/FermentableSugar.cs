using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Sugar in the wine that could ferment, as glucose and fructose, from the best evidence of the journal.</summary>
/// <param name="Low">The least that is meant. [g/L]</param>
/// <param name="High">The most. [g/L]</param>
/// <param name="From">Where it comes from, in words.</param>
internal sealed record FermentableSugar(double Low, double High, Reason From)
{
    /// <summary>Error of a sugar test with tablets or strips at home. [g/L] Common practice, no source.</summary>
    private const double TestError = 1;

    private const double WaterOfHoney = 0.172;

    /// <summary>A sugar test and what was added since; without one the balance of mass before sweetening, and what was added since; null where neither is known.</summary>
    public static FermentableSugar? Of(GateFacts facts)
    {
        if (facts.Measured("sugar-test") is { } test && facts.IsFresh(test.At))
        {
            var measured = test.Number("sugar-test")!.Value;
            return With(facts, Math.Max(0, measured - TestError), measured + TestError, test.At, "gate-sugar-by-test");
        }

        // A gravity after sweetening counts its sugar as if it had never fermented: the balance is drawn before.
        var sweetened = facts.Past().FirstOrDefault(entry => entry.Kind is JournalKind.Sweetened)?.At;
        if (sweetened is not { } first)
        {
            return facts.View is { SugarLeft: { } left, LatestGravity: { } latest } ? Balanced(facts, left, latest.At) : null;
        }

        if (facts.View.OriginalGravity is not { } original || Before(facts, first) is not { } before)
        {
            return null;
        }

        var fed = Ledger.Of(facts.View.Batch, [.. facts.Past().Where(entry => entry.At < first)]).FedPoints;
        return Balanced(facts, MassBalance.Of(SpecificGravity.FromPoints(original.Value.Points + fed), before.Gravity).SugarLeft, before.At);
    }

    /// <summary>Sugar that a kilogram in so many liters brings, as glucose and fructose. [g/L]</summary>
    internal static double HexoseOf(double kilograms, string? sweetener, double liters)
    {
        var kind = sweetener == "honey" ? PrimingKind.Honey : PrimingKind.Sucrose;
        return 1000 * kilograms * PrimingSugar.CarbonDioxidePerGram(kind, WaterOfHoney) / CarbonDioxideYield.PerHexose / liters;
    }

    /// <summary>The last gravity before a moment.</summary>
    internal static (SpecificGravity Gravity, EventTime At)? Before(GateFacts facts, EventTime moment)
    {
        (SpecificGravity, EventTime)? last = null;
        foreach (var point in facts.View.Gravity)
        {
            last = point.At < moment ? (point.Gravity, point.At) : last;
        }

        foreach (var entry in facts.HandReadings())
        {
            last = entry.At < moment && (last is not { } known || entry.At >= known.Item2) ? (entry.Gravity!.Value, entry.At) : last;
        }

        return last;
    }

    private static FermentableSugar? Balanced(GateFacts facts, Computed<SugarConcentration> left, EventTime at)
    {
        var grams = Math.Max(0, left.Value.GramsPerLiter);
        return With(facts, Math.Max(0, grams - left.Tolerance), grams + left.Tolerance, at, "gate-sugar-by-balance");
    }

    private static FermentableSugar? With(GateFacts facts, double low, double high, EventTime since, string from)
    {
        var added = 0.0;
        foreach (var entry in facts.Past())
        {
            if (entry.At > since && (entry.Kind is JournalKind.Sweetened or JournalKind.SugarAdded) && entry.Number("kilograms") is { } kilograms)
            {
                if (Ledger.Of(facts.View.Batch, [.. facts.Past().Where(one => one.At <= entry.At)]).Volume is not { } volume)
                {
                    return null;
                }

                added += HexoseOf(kilograms, entry.Word("sweetener"), volume.Liters);
            }
        }

        var moment = new ReasonValue.Moment(since);
        return new(low + added, high + added, added > 0 ? Reason.Of(from + "-and-added", moment, new ReasonValue.Figure(added, 0)) : Reason.Of(from, moment));
    }
}
