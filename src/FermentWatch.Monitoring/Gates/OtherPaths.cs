using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Evidence for the ways that need no sulfite: heat or a membrane, cold, or bottles that bear it. Limits are common practice, no source.</summary>
internal static class OtherPaths
{
    // What grows back may come in with any of these.
    private static readonly JournalKind[] Opening =
        [JournalKind.Sweetened, JournalKind.SugarAdded, JournalKind.Inoculated, JournalKind.Repitched, JournalKind.Racked, JournalKind.ToppedUp, JournalKind.FruitIn, JournalKind.OakIn];

    private static readonly string[] PathWords = ["dry-and-flat", "sulfite-and-sorbate", "pasteurized-or-filtered", "kept-cold", "bottle-conditioned"];

    /// <summary>The way that the maker chose, or null.</summary>
    public static BottlePath? Chosen(GateFacts facts) =>
        facts.Last(JournalKind.PathChosen)?.Word("path") is { } word && Array.IndexOf(PathWords, word) is >= 0 and var index ? (BottlePath)(index + 1) : null;

    /// <summary>Heated hot and long enough, or through a membrane fine enough, and not opened since.</summary>
    /// <remarks><b>Equation.</b> Minutes at 60 °C: t · 10^((T − 60) / 7), as with beer. Common practice, no source.</remarks>
    public static GateCondition HeatedOrFiltered(GateFacts facts)
    {
        const string Code = "heated-or-filtered";
        if (facts.Last(JournalKind.Pasteurized, JournalKind.SterileFiltered) is not { } done)
        {
            return new(Code, ConditionState.Unknown, Reason.Of("gate-path-pasteurized"));
        }

        var at = new ReasonValue.Moment(done.At);
        if (facts.Last(Opening) is { } opened && opened.At > done.At)
        {
            return new(Code, ConditionState.NotMet, Reason.Of("gate-opened-since", at, new ReasonValue.Moment(opened.At)), opened.At);
        }

        if (done.Kind is JournalKind.SterileFiltered)
        {
            var pore = done.Number("pore") ?? double.PositiveInfinity;
            return new(
                Code,
                pore <= facts.Settings.PoreMicrometers ? ConditionState.Met : ConditionState.NotMet,
                Reason.Of("gate-filtered", new ReasonValue.Figure(pore, 2), at, new ReasonValue.Figure(facts.Settings.PoreMicrometers, 2)),
                done.At);
        }

        var (celsius, minutes) = (done.Number("heated-to") ?? 0, done.Number("held-minutes") ?? 0);
        var equal = minutes * Math.Pow(10, (celsius - 60) / 7);
        return new(
            Code,
            celsius >= facts.Settings.HeatedCelsius && equal >= facts.Settings.HeatedMinutes ? ConditionState.Met : ConditionState.NotMet,
            Reason.Of(
                celsius >= facts.Settings.HeatedCelsius ? "gate-heated" : "gate-heated-too-little",
                new ReasonValue.Degrees(celsius),
                new ReasonValue.Figure(minutes, 0),
                at,
                new ReasonValue.Figure(Math.Min(equal, 9999), 0),
                new ReasonValue.Figure(facts.Settings.HeatedMinutes, 0),
                new ReasonValue.Degrees(facts.Settings.HeatedCelsius),
                new ReasonValue.Degrees(60)),
            done.At);
    }

    /// <summary>Cold enough over the last days, by readings or by a sample's temperature.</summary>
    public static GateCondition Cold(GateFacts facts)
    {
        var (from, highest, count, newest) = (facts.View.Now - facts.Settings.ColdFor, double.NegativeInfinity, 0, (EventTime?)null);
        foreach (var point in facts.View.Temperature)
        {
            if (point.At >= from)
            {
                (highest, count, newest) = (Math.Max(highest, point.Highest.Celsius), count + 1, point.At);
            }
        }

        var limit = new ReasonValue.Degrees(facts.Settings.KeptColdCelsius);
        if (newest is not { } at)
        {
            return facts.Measured("sample-temperature") is { } sample && sample.At >= from
                ? new(
                    "cold",
                    sample.Number("sample-temperature") <= facts.Settings.KeptColdCelsius ? ConditionState.Met : ConditionState.NotMet,
                    Reason.Of("gate-cold-by-hand", new ReasonValue.Degrees(sample.Number("sample-temperature")!.Value), new ReasonValue.Moment(sample.At), limit),
                    sample.At)
                : new("cold", ConditionState.Unknown, Reason.Of("gate-cold-unknown", new ReasonValue.Length(facts.Settings.ColdFor), limit));
        }

        return new(
            "cold",
            highest <= facts.Settings.KeptColdCelsius ? ConditionState.Met : ConditionState.NotMet,
            Reason.Of("gate-cold", new ReasonValue.Degrees(highest), new ReasonValue.Length(facts.Settings.ColdFor), new ReasonValue.Count(count), limit),
            at);
    }

    /// <summary>What bottle or keg is rated for, against the pressure of the warmest day if all ferments.</summary>
    public static GateCondition Rated(GateFacts facts, BottlePath path)
    {
        if (Rating(facts, path) is not { } chosen)
        {
            return new("rated", ConditionState.Unknown, Reason.Of("gate-rating-unknown"));
        }

        var rating = new ReasonValue.Figure(chosen.Number("rated-pressure")!.Value, 1);
        return BottleGas.Of(facts) is not { Gas: { } gas }
            ? new("rated", ConditionState.Unknown, Reason.Of("gate-rating-no-pressure", rating), chosen.At)
            : new("rated", gas.Warm <= rating.Value ? ConditionState.Met : ConditionState.NotMet, Reason.Of("gate-rating", rating, new ReasonValue.Figure(gas.Warm, 1), HotDay), chosen.At);
    }

    /// <summary>Sugar for the bottle is written down, and how much at most the rating allows.</summary>
    /// <remarks><b>Equation.</b> The sugar that would make the pressure at 30 °C, its error counted, equal to the rating, less what may be left.</remarks>
    public static GateCondition Primed(GateFacts facts)
    {
        var flat = HandSeries.FlatSince(facts);
        if (facts.Last(JournalKind.SugarAdded) is { } primed && flat is { } since && primed.At >= since && primed.Number("kilograms") is { } kilograms
            && Ledger.Of(facts.View.Batch, [.. facts.Past()]).Volume is { } volume)
        {
            return new("primed", ConditionState.Met, Reason.Of("gate-primed", new ReasonValue.Amount(kilograms, "kg", 3), new ReasonValue.Moment(primed.At), new ReasonValue.Figure(1000 * kilograms / volume.Liters, 1)), primed.At);
        }

        if (Rating(facts, BottlePath.BottleConditioned) is not { } chosen || BottleGas.Of(facts) is not { Gas: { } gas } || facts.View.Alcohol is not { } alcohol)
        {
            return new("primed", ConditionState.Unknown, Reason.Of("gate-not-primed"));
        }

        // Each gram of table sugar in a liter lifts the pressure by the same: the figure at two doses gives the slope.
        var bottle = new ClosedBottle(0.03, Temperature.FromCelsius(20), alcohol.Value, SugarConcentration.FromGramsPerLiter(0));
        var perGram = bottle.GasPressure(MassConcentration.FromGramsPerLiter(CarbonDioxideYield.PerSucrose), BottleGas.HotDay).Value.Bar * (1 + CarbonDioxideSolubility.RelativeError);
        var most = (chosen.Number("rated-pressure")!.Value - gas.Warm) / perGram;
        return most <= 0
            ? new("primed", ConditionState.NotMet, Reason.Of("gate-no-room-to-prime", new ReasonValue.Figure(gas.Warm, 1), new ReasonValue.Figure(chosen.Number("rated-pressure")!.Value, 1), HotDay), chosen.At)
            : new("primed", ConditionState.Unknown, Reason.Of("gate-prime-at-most", new ReasonValue.Figure(Math.Floor(most * 10) / 10, 1), new ReasonValue.Figure(chosen.Number("rated-pressure")!.Value, 1), HotDay), chosen.At);
    }

    private static ReasonValue.Degrees HotDay => new(BottleGas.HotDay.Celsius);

    private static JournalEntry? Rating(GateFacts facts, BottlePath path) =>
        facts.Past().LastOrDefault(entry => entry.Kind is JournalKind.PathChosen && entry.Word("path") == PathWords[(int)path - 1] && entry.Number("rated-pressure") is not null);
}
