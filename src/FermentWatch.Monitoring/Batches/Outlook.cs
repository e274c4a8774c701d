using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Phase and forecast of a batch on a line of the event-time grid, from the facts up to that line alone.</summary>
/// <param name="Input">What the others stand on: equal inputs need no second fit.</param>
/// <param name="Phase">What it is doing.</param>
/// <param name="Forecast">Where it will end; null before any gravity is known.</param>
/// <param name="Stop">Whether it has stopped.</param>
internal sealed record Outlook(ForecastInput Input, PhaseAssessment Phase, GravityForecast? Forecast, StopAssessment Stop)
{
    /// <summary>Judges at <paramref name="line"/>; what was found at <paramref name="now"/> is used again where nothing lies between.</summary>
    public static Outlook Of(
        Batch batch,
        List<SeriesOfBatch> series,
        IReadOnlyList<JournalEntry> journal,
        GravityPicture gravity,
        ValueList<TemperaturePoint> temperature,
        PriorSnapshot prior,
        EventTime now,
        EventTime line,
        Outlook? before)
    {
        if (line < now && HasFactsAfter(series, journal, line))
        {
            series = series.ConvertAll(one => one with { Readings = UpTo(one.Readings, line) });
            journal = JournalUpTo(journal, line);
            gravity = GravityPicture.Of(series, batch.InoculatedAt, journal, batch.OriginalGravity?.Points);
            temperature = TemperatureBins.Of(BatchAnalysis.TemperatureTracks(series)).Points;
        }

        var told = batch.OriginalGravity;
        if (told is null && gravity.Hand.BeforeInoculation.Count > 0)
        {
            told = GravityBins.ToGravity(gravity.Hand.BeforeInoculation[^1].Points);
        }

        var input = new ForecastInput(
            batch.Kind,
            batch.InoculatedAt,
            told,
            batch.Tolerance,
            gravity.Points,
            temperature,
            EventsOf(gravity, journal),
            prior,
            line)
        {
            ByHand = gravity.IsByHand,
            MeasuredByHandAt = gravity.Hand.Kept.Count > 0 ? gravity.Hand.Kept[^1].At : null,
            Forced = ForcedTestOf(journal),
        };
        return At(input, before);
    }

    /// <summary>Judges an input; what was judged before is used again where the input is the same.</summary>
    public static Outlook At(ForecastInput input, Outlook? before)
    {
        if (before is not null && before.Input == input)
        {
            return before;
        }

        var forecast = input.Gravity.Count == 0 && input.OriginalGravity is null ? null : Forecaster.At(input);
        var phase = PhaseJudge.Assess(input);
        return new Outlook(input, phase, forecast, StopJudge.Assess(input, phase, forecast));
    }

    // Sugar that was found counts like sugar that was told.
    private static ValueList<TimelineEvent> EventsOf(GravityPicture gravity, IReadOnlyList<JournalEntry> journal)
    {
        var events = new List<TimelineEvent>();
        foreach (var one in BatchAnalysis.TimelineOf(gravity, journal))
        {
            events.Add(one.What.Code == ReasonCodes.EventSugarFound ? one with { Kind = JournalKind.SugarAdded } : one);
        }

        return ValueList.Of(events);
    }

    private static ForcedTest? ForcedTestOf(IReadOnlyList<JournalEntry> journal)
    {
        ForcedTest? last = null;
        foreach (var entry in journal)
        {
            last = entry is { Kind: JournalKind.ForcedTest, Gravity: { } gravity } && (last is null || entry.At >= last.At) ? new ForcedTest(gravity, entry.At) : last;
        }

        return last;
    }

    private static bool HasFactsAfter(List<SeriesOfBatch> series, IReadOnlyList<JournalEntry> journal, EventTime line)
    {
        foreach (var one in series)
        {
            if (one.Key.Quantity is QuantityKind.Gravity or QuantityKind.Temperature && one.Readings.Length > 0 && one.Readings[^1].At > line)
            {
                return true;
            }
        }

        return journal.Count > 0 && journal[^1].At > line;
    }

    private static Reading[] UpTo(Reading[] readings, EventTime line)
    {
        var count = readings.Length;
        while (count > 0 && readings[count - 1].At > line)
        {
            count--;
        }

        return readings[..count];
    }

    private static List<JournalEntry> JournalUpTo(IReadOnlyList<JournalEntry> journal, EventTime line)
    {
        var list = new List<JournalEntry>();
        foreach (var entry in journal)
        {
            if (entry.At <= line)
            {
                list.Add(entry);
            }
        }

        return list;
    }
}
