using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Says all there is to say about a batch, as a pure function of the set of facts.</summary>
public static class BatchAnalysis
{
    /// <summary>Forecasts stand on lines this far apart in event time.</summary>
    public static TimeSpan ForecastGrid { get; } = TimeSpan.FromMinutes(15);

    /// <summary>The view of a batch at <paramref name="now"/>.</summary>
    /// <remarks>
    /// Late, shuffled and repeated facts give exactly the view of ordered ones. Facts after <paramref name="now"/> do not count.
    /// Nothing is deleted: what is left out of the curve is listed with its reason.
    /// </remarks>
    /// <param name="facts">Everything known about the batch.</param>
    /// <param name="settings">What the maker set.</param>
    /// <param name="prior">What is assumed before any reading.</param>
    /// <param name="now">The moment to look from, on the samples' time line.</param>
    /// <param name="before">An earlier view of the batch, or null: where its forecast stood on exactly the same, it is not computed again. It changes no result.</param>
    public static BatchView View(BatchFacts facts, ViewSettings settings, PriorSnapshot prior, EventTime now, BatchView? before = null) =>
        View(facts, settings, prior, now, before, judged: null);

    /// <summary>The view for those who ask nothing new of the forecast, which costs the most: phase, forecast and judgment of the end are as an earlier look found them.</summary>
    internal static BatchView Glance(BatchFacts facts, ViewSettings settings, EventTime now, BatchView judged) =>
        View(facts, settings, PriorSnapshot.Shipped, now, before: null, judged.Outlook);

    private static BatchView View(BatchFacts facts, ViewSettings settings, PriorSnapshot prior, EventTime now, BatchView? before, Outlook? judged)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(prior);
        var journal = JournalReading.Active(facts.Journal, now);
        var stages = Stages.Of(facts.Batch, journal);
        var bands = Stages.Bands(facts.Batch, stages);
        var batch = bands.Count == 0 ? facts.Batch : facts.Batch with { TemperatureBand = bands[^1].Band, Bands = bands };
        var series = SensorListing.Series(facts, now);
        var gravity = GravityPicture.Of(series, batch.InoculatedAt, journal, batch.OriginalGravity?.Points);
        var (temperature, latestTemperature) = TemperatureBins.Of(TemperatureTracks(series));
        var line = judged ?? Outlook.Of(batch, series, journal, gravity, temperature, prior, now, LineOf(gravity, now), before?.Outlook);
        var original = OriginalGravityEstimate.Of(batch, gravity);
        var balance = SugarBalance.Of(original, gravity, StepFeeding.Of(batch, journal));
        return new BatchView
        {
            Batch = batch,
            Now = now,
            Stage = stages[^1],
            IsGravityByHand = gravity.IsByHand,
            Phase = Unheard(gravity, now) ?? line.Phase,
            Forecast = line.Forecast,
            Outlook = line,
            Stop = line.Stop,
            OriginalGravity = original,
            SugarLeft = balance?.SugarLeft,
            Alcohol = balance?.Alcohol,
            LatestGravity = LatestOf(gravity),
            LatestTemperature = latestTemperature,
            Gravity = gravity.Points,
            SetAside = GravityFindings.SetAside(gravity, batch.InoculatedAt),
            Temperature = temperature,
            GravityGaps = gravity.Gaps(now),
            HandPairs = ValueList.Of(gravity.Anchors.ConvertAll(pair => new HandPair(pair.At, pair.Points, pair.SensorPoints))),
            Journal = ValueList.Of(journal.Select(entry => entry with { Supersedes = null, Because = null })),
            Events = Unworked(TimelineOf(gravity, journal), facts.Work),
            Sensors = SensorListing.Statuses(batch, series, now),
            PressurePerDay = PressureRise.Of(series, now),
            GravityRisePoints = GravityRise.Of(series, stages[^1], journal, now),
            Batteries = SensorBatteries.Of(series, temperature, now),
            Episodes = SampleRules.Episodes(
                new SampleFacts(batch, EpisodeSeries(series, facts.Work), now) { Journal = journal, Stages = stages, Gravity = gravity.Points, Sifted = GravitySieve.Of(series, gravity, facts.Work) },
                settings.Alerts.For(batch.Limits)),
            WorkingUntil = WorkingUntil(facts.Work, now),
            GravityCounts = GravityFindings.Counts(gravity),
        };
    }

    /// <summary>The forecast's line in event time at or before <paramref name="now"/>.</summary>
    public static EventTime GridLine(EventTime now)
    {
        var width = (long)ForecastGrid.TotalMicroseconds;
        return new EventTime(BinWidth.Slot(now, width) * width);
    }

    /// <summary>A reading that the maker just took counts at once: it will be days until the next.</summary>
    private static EventTime LineOf(GravityPicture gravity, EventTime now)
    {
        var line = GridLine(now);
        return gravity.IsByHand && gravity.Hand.Kept[^1].At > line ? gravity.Hand.Kept[^1].At : line;
    }

    internal static ValueList<TimelineEvent> TimelineOf(GravityPicture gravity, IReadOnlyList<JournalEntry> journal)
    {
        var events = GravityFindings.Events(gravity, journal);
        foreach (var entry in journal)
        {
            events.Add(JournalReading.ToEvent(entry));
        }

        // Found ones first at the same instant; the rest keeps the order of the journal, which is complete.
        var ordered = new List<(TimelineEvent Event, int Position)>();
        for (var i = 0; i < events.Count; i++)
        {
            ordered.Add((events[i], i));
        }

        ordered.Sort((left, right) => left.Event.At.CompareTo(right.Event.At) is var order and not 0
            ? order
            : left.Position.CompareTo(right.Position));
        return ValueList.Of(ordered.ConvertAll(pair => pair.Event));
    }

    private static Latest<SpecificGravity>? LatestOf(GravityPicture gravity) =>
        gravity.Samples.Count == 0
            ? null
            : new Latest<SpecificGravity>(
                GravityBins.ToGravity(gravity.Samples[^1].Points),
                gravity.Samples[^1].At,
                gravity.Samples[^1].ReceivedAt);

    /// <summary>Why nothing can be said about the phase, or null when the readings are fresh enough.</summary>
    private static PhaseAssessment? Unheard(GravityPicture gravity, EventTime now)
    {
        if (gravity.NewestStored() is not { } stored || gravity.Samples.Count == 0)
        {
            return new PhaseAssessment(Phase.Unknown, Reason.Of(ReasonCodes.PhaseUnknownNoReadings), null);
        }

        var kept = gravity.Samples[^1].At;
        if (now - stored > gravity.GapLimit)
        {
            var silence = new ReasonValue.Length(now - stored);
            return new PhaseAssessment(Phase.Unknown, Reason.Of(ReasonCodes.PhaseUnknownSilent, silence), null);
        }

        return now - kept > gravity.GapLimit
            ? new PhaseAssessment(Phase.Unknown, Reason.Of(ReasonCodes.PhaseUnknownSetAside, new ReasonValue.Moment(kept)), null)
            : null;
    }

    /// <summary>What is sampled while somebody works on the vessel is about the work: no alert stands on it.</summary>
    private static List<SeriesReadings> EpisodeSeries(List<SeriesOfBatch> series, IReadOnlyList<WorkSpan> work) =>
        series.ConvertAll(one => new SeriesReadings(
            one.Key,
            work.Count == 0 ? one.Readings : Array.FindAll(one.Readings, reading => !Covers(work, reading.At))));

    /// <summary>A step that was found while somebody worked on the vessel tells the maker nothing new; what the maker wrote stays.</summary>
    private static ValueList<TimelineEvent> Unworked(ValueList<TimelineEvent> events, IReadOnlyList<WorkSpan> work) =>
        work.Count == 0 ? events : ValueList.Of(events.Where(one => one.Kind is not null || !Covers(work, one.At)));

    private static EventTime? WorkingUntil(IReadOnlyList<WorkSpan> work, EventTime now)
    {
        EventTime? until = null;
        foreach (var span in work)
        {
            until = span.Covers(now) && (until is not { } known || span.Until > known) ? span.Until : until;
        }

        return until;
    }

    private static bool Covers(IReadOnlyList<WorkSpan> work, EventTime at)
    {
        foreach (var span in work)
        {
            if (span.Covers(at))
            {
                return true;
            }
        }

        return false;
    }

    internal static List<TemperatureTrack> TemperatureTracks(IReadOnlyList<SeriesOfBatch> series)
    {
        var tracks = new List<TemperatureTrack>();
        foreach (var one in series)
        {
            if (one.Key.Quantity != QuantityKind.Temperature)
            {
                continue;
            }

            var placements = new Placement[one.Readings.Length];
            for (var i = 0; i < placements.Length; i++)
            {
                placements[i] = PlacementAt(one.Attachments, one.Readings[i].At);
            }

            tracks.Add(new TemperatureTrack(one.Readings, placements));
        }

        return tracks;
    }

    private static Placement PlacementAt(SensorAttachment[] attachments, EventTime at)
    {
        var placement = Placement.Room;
        foreach (var attachment in attachments)
        {
            placement = attachment.Covers(at) && attachment.Placement < placement ? attachment.Placement : placement;
        }

        return placement;
    }
}
