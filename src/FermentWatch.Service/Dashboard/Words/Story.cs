using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Service.Dashboard.Pictures;
using Microsoft.AspNetCore.Components;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>The sentences about a batch: what will be, when, how sure; then what it does; then what is not known.</summary>
/// <param name="reader">Zone and language.</param>
/// <param name="computedAt">When the snapshot was computed.</param>
public sealed class Story(Reader reader, DateTimeOffset computedAt)
{
    /// <summary>The opening sentence; it goes on from the batch's name unless it stands alone.</summary>
    public MarkupString Opening(BoardEntry entry, bool alone)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var view = entry.View;
        var end = alone ? "-alone" : "";
        var forecast = view.Forecast;
        switch (Outlooks.Of(entry, computedAt))
        {
            case Outlook.Expected when forecast is { Finish.P50: { } middle }:
                var day = reader.LongDay(middle);
                return forecast.Finish is { P05: { } early, P95: { } late }
                    ? PageText.Markup("say-expected" + end, day, Between(early, late, middle))
                    : PageText.Markup("say-expected-open" + end, day);
            case Outlook.AtEnd when forecast is not null:
                return PageText.Markup("say-at-end" + end, reader.Gravity(forecast.FinalGravity.P50));
            case Outlook.Flat when view.LatestGravity is { } latest:
                return PageText.Markup("say-flat" + end, reader.Gravity(latest.Value));
            case Outlook.Silent when view.LatestGravity is { } last:
                return PageText.Markup("say-silent" + end, reader.Moment(last.ReceivedAt.ToDateTimeOffset()), reader.Gravity(last.Value));
            case Outlook.NoReadings:
                return PageText.Markup("say-no-readings" + end);
            case Outlook.NoDayInSight:
                return PageText.Markup("say-no-day" + end);
            case Outlook.NotYet when forecast?.NotYet is { } because:
                return PageText.Markup("say-not-yet" + end, ReasonWords.Of(because, reader));
            default:
                return PageText.Markup("say-not-yet" + end, PageText.Of("no-original-gravity"));
        }
    }

    /// <summary>Where it should end, with odds; null where that is not known.</summary>
    public MarkupString? Ending(BoardEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return Outlooks.Of(entry, computedAt) is Outlook.Expected or Outlook.NoDayInSight && entry.View.Forecast is { } forecast
            ? PageText.Markup(
                "say-ending",
                reader.Gravity(forecast.FinalGravity.P50),
                reader.Gravity(forecast.FinalGravity.P05),
                reader.Gravity(forecast.FinalGravity.P95))
            : null;
    }

    /// <summary>What the forecast rests on beside the readings, a sentence each; none where nothing is forecast.</summary>
    public IEnumerable<string> Basis(BoardEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return Outlooks.Of(entry, computedAt) is Outlook.Expected or Outlook.NoDayInSight or Outlook.NotYet && entry.View.Forecast is { } forecast
            ? forecast.Basis.Select(one => ReasonWords.Sentence(one, reader))
            : [];
    }

    /// <summary>'Vessel 3. Day 6, falling 15 points a day.'</summary>
    public string PhaseLine(BatchView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var vessel = view.Batch.Vessel is { Length: > 0 } name ? name + ". " : "";
        var days = reader.DateOf(view.Now).DayNumber - reader.DateOf(view.Batch.InoculatedAt).DayNumber;
        var day = days switch
        {
            < 0 => PageText.Of("day-before", reader.MonthDay(view.Batch.InoculatedAt)),
            0 => PageText.Of("day-first"),
            _ => PageText.Of("day", days),
        };
        return vessel + day + ", " + PhaseWords(view.Phase) + ".";
    }

    /// <summary>'falling 15 points a day'.</summary>
    public string PhaseWords(PhaseAssessment phase)
    {
        ArgumentNullException.ThrowIfNull(phase);
        var rate = phase.RatePerDay is { } fall && fall >= 0.00005 ? PageText.Of("rate", reader.Fall(fall)) : null;
        var key = phase.Phase switch
        {
            Phase.Lag => "phase-lag",
            Phase.Active => "phase-active",
            Phase.Slowing => "phase-slowing",
            Phase.Flat => "phase-flat",
            _ => "phase-unknown",
        };
        return phase.Phase is Phase.Active or Phase.Slowing && rate is not null
            ? PageText.Of(key + "-at", rate)
            : PageText.Of(key);
    }

    /// <summary>'166 of 244 g/L', 'too little to tell from gravity', '88 g/L, then unknown', 'unknown'.</summary>
    public static string SugarLeft(BatchView view, Hearing hearing)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(hearing);
        if (view.SugarLeft is not { } left || view.OriginalGravity is not { } original)
        {
            return PageText.Of("unknown");
        }

        var value = left.Value.GramsPerLiter;
        if (hearing.GravityLate)
        {
            return PageText.Of("value-then-unknown", Figures.GramsPerLiter(Math.Max(0, value)));
        }

        if (value < CurveScale.TooLittleToTell(view))
        {
            return PageText.Of("sugar-too-little");
        }

        var atStart = MassBalance.Of(original.Value, original.Value).SugarAtStart.Value.GramsPerLiter;
        return PageText.Of("sugar-of", Figures.Whole(value), Figures.GramsPerLiter(Math.Max(atStart, value)));
    }

    /// <summary>'19.4 °C, band 18 to 21', '20.6 °C, then unknown', 'unknown'.</summary>
    public string Temperature(BatchView view, Hearing hearing)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(hearing);
        if (view.LatestTemperature is not { } latest)
        {
            return PageText.Of("unknown");
        }

        var degrees = reader.Degrees(latest.Value.Celsius);
        if (hearing.TemperatureLate)
        {
            return PageText.Of("value-then-unknown", degrees);
        }

        return view.Batch.TemperatureBand is { } band
            ? PageText.Of("temperature-with-band", degrees, reader.BareDegrees(band.Low.Celsius), reader.BareDegrees(band.High.Celsius))
            : degrees;
    }

    /// <summary>'4 min ago', 'not yet', 'by hand'.</summary>
    public static string Heard(Hearing hearing)
    {
        ArgumentNullException.ThrowIfNull(hearing);
        return hearing switch
        {
            { Since: { } since } => Reader.Ago(since),
            { HasSensors: true } => PageText.Of("heard-never"),
            _ => PageText.Of("heard-by-hand"),
        };
    }

    private string Between(EventTime early, EventTime late, EventTime middle)
    {
        // Short within one month only: 'November 30 and Sunday 6' would leave open which month the 6th is of.
        var (first, last) = reader.SameMonth(early, late)
            ? (reader.DayBeside(early, middle), reader.DayBeside(late, middle))
            : (reader.DayInFull(early, middle), reader.DayInFull(late, middle));
        return first == last ? PageText.Of("odds-on-that-day") : PageText.Of("odds-between", first, last);
    }
}
