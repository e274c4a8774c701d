using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>temperature-band</c>: the median of the last three samples of a sensor is outside the batch's band. Every sensor of the
/// batch is a subject, but for those in the room; a batch without a band has none.
/// </summary>
/// <remarks>
/// <para>Delays are common practice without a source. A sensor on the glass lags behind the liquid and follows the room, so it has longer ones.</para>
/// <para>With fewer than three samples since the last gap, the one nearest to the band counts: a single wild value raises nothing.</para>
/// </remarks>
public static class TemperatureBandRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "temperature-band";

    // A limit is met by a value that was rounded to it on its way through another unit.
    private const double RoundingCelsius = 1e-9;

    private static readonly TimeSpan AssumedInterval = TimeSpan.FromMinutes(15);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.TemperatureBand.Repeat, Episodes, OnTicks: null, TemperatureBandNotice.Words);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings)
    {
        var (batch, series, now) = facts;
        if (!settings.TemperatureBand.Enabled)
        {
            return [];
        }

        var sensors = batch.Sensors.Distinct().Where(attachment => attachment.Placement is not Placement.Room).ToList();
        return batch.Bands.Count > 0
            ? batch.Bands.SelectMany(span => sensors.SelectMany(sensor => Within(sensor, span, series, settings.TemperatureBand, now)))
            : batch.TemperatureBand is { } band
                ? sensors.SelectMany(sensor => Episodes(sensor, band, series, settings.TemperatureBand, now))
                : [];
    }

    /// <summary>Episodes of the part of an attachment that lies in a stage; what lasts to the end of a stage ends with it.</summary>
    private static IEnumerable<AlertEpisode> Within(
        SensorAttachment attachment, BandSpan span, IReadOnlyList<SeriesReadings> series, TemperatureBandSettings settings, EventTime now)
    {
        var from = span.From is { } begin && begin > attachment.From ? begin : attachment.From;
        var endsWithStage = span.Until is { } end && (attachment.Until is not { } leaves || end < leaves);
        var until = endsWithStage ? span.Until : attachment.Until;
        if (span.Band is not { } band || (until is { } limit && limit <= from))
        {
            return [];
        }

        var found = Episodes(attachment with { From = from, Until = until }, band, series, settings, now);
        return endsWithStage
            ? found.Select(episode => episode.ClearedAt == until ? episode with { ClearedBecause = StageEnded(attachment, span.Until!.Value) } : episode)
            : found;
    }

    private static Reason StageEnded(SensorAttachment attachment, EventTime at) =>
        Reason.Of("temperature-stage-ended", new ReasonValue.Name(attachment.Sensor.Value), new ReasonValue.Moment(at));

    private static List<AlertEpisode> Episodes(
        SensorAttachment attachment,
        TemperatureBand band,
        IReadOnlyList<SeriesReadings> series,
        TemperatureBandSettings settings,
        EventTime now)
    {
        var samples = SampleOrder.Of(attachment, QuantityKind.Temperature, series, now);
        var timing = new AlertTiming(
            new Hold(OnDelay(attachment.Placement, settings), settings.OnSamples),
            new Hold(settings.OffDelay, 0),
            AlertTiming.UsualGapLimit(SampleOrder.MedianInterval(samples, AssumedInterval)));
        var margin = Math.Min(settings.ClearMarginCelsius, (band.High.Celsius - band.Low.Celsius) / 4);
        var found = new List<AlertEpisode>();
        var state = AlertState.Start;
        var window = new MedianWindow(band);
        var trace = new ExcursionTrace(attachment, band);

        foreach (var sample in samples)
        {
            if (!double.IsFinite(sample.Value))
            {
                continue;
            }

            var at = RuleTime.Of(sample.At);
            if (state.LastKnown is { } last && at - last > timing.GapLimit)
            {
                window.Clear();
                trace.Break();
            }

            var value = window.Add(sample.At, sample.Value);
            var was = state;
            state = Backdated(was, state.Next(Judge(value, band, margin), at, timing), window, at, timing);
            if (state is { Phase: AlertPhase.Watching, Samples: 1 } || (was.Phase is AlertPhase.Quiet && state.Phase is not AlertPhase.Quiet))
            {
                trace.Begin();
            }

            trace.Add(sample.At, value);
            if (state.Phase is AlertPhase.Raised && !was.Stands)
            {
                trace.Raise(was.Phase is AlertPhase.Watching ? was.Since.ToEventTime() : window.OutsideSince ?? sample.At, sample.At);
            }
            else if (was.Stands && !state.Stands)
            {
                found.Add(trace.Clear(sample.At));
            }
        }

        if (state.Stands)
        {
            found.Add(attachment.Until is { } until && until <= now ? trace.Detach(until) : trace.Lasting(state.Phase is AlertPhase.Easing));
        }

        return found;
    }

    /// <summary>
    /// The median speaks a sample late. What it confirms began with the first value of its run, so the delay counts from there; and
    /// nothing is raised on a value that lies inside again, though the median does not yet.
    /// </summary>
    private static AlertState Backdated(AlertState was, AlertState state, MedianWindow window, RuleTime at, AlertTiming timing)
    {
        if (state.Phase is AlertPhase.Raised && was is { Phase: AlertPhase.Watching, LastKnown: { } last } && window.OutsideCount == 0)
        {
            return was with { LastKnown = at, Held = was.Held + (at - last), Samples = was.Samples + 1 };
        }

        if (state is not { Phase: AlertPhase.Watching, Samples: 1 } || window.OutsideSince is not { } first || window.OutsideCount < 2)
        {
            return state;
        }

        var begun = state with { Since = RuleTime.Of(first), Held = at - RuleTime.Of(first), Samples = window.OutsideCount - 1 };
        return begun.Next(Condition.Holds, at, timing) is { Phase: AlertPhase.Raised } raised ? raised : begun with { Samples = window.OutsideCount };
    }

    private static TimeSpan OnDelay(Placement placement, TemperatureBandSettings settings) => placement switch
    {
        Placement.InLiquid => settings.OnDelayInLiquid,
        Placement.InsulatedOnGlass => settings.OnDelayInsulated,
        _ => settings.OnDelayBareGlass,
    };

    private static Condition Judge(double celsius, TemperatureBand band, double margin)
    {
        if (celsius > band.High.Celsius + RoundingCelsius || celsius < band.Low.Celsius - RoundingCelsius)
        {
            return Condition.Holds;
        }

        var isWellInside = celsius <= band.High.Celsius - margin + RoundingCelsius && celsius >= band.Low.Celsius + margin - RoundingCelsius;
        return isWellInside ? Condition.Clear : Condition.Between;
    }
}
