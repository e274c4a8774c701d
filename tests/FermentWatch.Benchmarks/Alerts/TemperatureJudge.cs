using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>An alert as it was told: from the pass that raised it to the one that ended it.</summary>
internal sealed record ToldAlert(string Rule, string Subject, EventTime BeganAt, EventTime RaisedAt, EventTime? EndedAt);

/// <summary>Judges the alerts about temperature by the true temperature of the liquid.</summary>
/// <remarks>
/// Wanted is every true spell that lasts for longer than the on-delay and that the sensor itself has shown for that long, sample by sample without a break: that
/// sample is the earliest moment, but none is earlier than the true spell's own on-delay. A spell that the sensor never showed in that way (it stands off, rounds, or was silent) is counted as unseen, beside the recall.
/// </remarks>
internal sealed class TemperatureJudge(Recording recording, TrueTemperature truth, IReadOnlyList<ToldAlert> told, AlertSettings settings)
{
    // A track tells the minute; the lists of recordings only spells of four hours and more, so a shorter one beside them may be true as well.
    private double SlackHours => truth.HasTrack ? 0.5 : 2;

    private Batch Batch => recording.Whole.Batch;

    public void Band(AlertTally tally, AlertTally fromCrossing)
    {
        if (Batch.TemperatureBand is not { } band)
        {
            return;
        }

        var (low, high) = (band.Low.Celsius, band.High.Celsius);
        var outside = truth.Outside(low, high);
        Judge(TemperatureBandRule.Id, tally, outside, outside, settings.TemperatureBand.OnDelayInLiquid, (samples, i) => samples[i].Value > high + 1e-9 || samples[i].Value < low - 1e-9, fromCrossing);
    }

    public void Danger(AlertTally tally)
    {
        if (truth.HasTrack)
        {
            var limits = settings.TemperatureDanger;
            var real = truth.Spells(hours => truth.At(hours) >= limits.HotCelsius || truth.At(hours) <= limits.FreezingCelsius);
            var near = truth.Spells(hours => truth.At(hours) >= limits.HotCelsius - limits.EarlierCelsius || truth.At(hours) <= limits.FreezingCelsius + limits.EarlierCelsius);
            Judge(TemperatureDangerRule.Id, tally, real, near, limits.OnDelay, (samples, i) => samples[i].Value >= limits.HotCelsius || samples[i].Value <= limits.FreezingCelsius);
        }
    }

    public void Drop(AlertTally tally)
    {
        if (truth.HasTrack)
        {
            var limits = settings.TemperatureDrop;
            var top = Batch.TemperatureBand?.High.Celsius ?? double.PositiveInfinity;
            double Fall(double now, IEnumerable<double> earlier) => earlier.Max(celsius => Math.Min(celsius, Math.Max(top, now))) - now;
            double TrueFall(double hours) => Fall(truth.At(hours), Enumerable.Range(0, 25).Select(i => truth.At(Math.Max(0, hours - (limits.Within.TotalHours * i / 24)))));
            Judge(
                TemperatureDropRule.Id,
                tally,
                truth.Spells(hours => TrueFall(hours) > limits.DropCelsius),
                truth.Spells(hours => TrueFall(hours) > limits.DropCelsius - 0.5),
                limits.OnDelay,
                (samples, i) => Fall(samples[i].Value, Within(samples, i, limits.Within)) > limits.DropCelsius);
        }
    }

    private static IEnumerable<double> Within(IReadOnlyList<Reading> samples, int i, TimeSpan length)
    {
        for (var earlier = i; earlier >= 0 && samples[i].At - samples[earlier].At <= length; earlier--)
        {
            yield return samples[earlier].Value;
        }
    }

    private void Judge(
        string rule,
        AlertTally tally,
        List<(double From, double To)> wanted,
        List<(double From, double To)> right,
        TimeSpan delay,
        Func<IReadOnlyList<Reading>, int, bool> shows,
        AlertTally? fromCrossing = null)
    {
        var mine = told.Where(one => one.Rule == rule).ToList();
        foreach (var one in mine)
        {
            var (from, until) = (truth.Hours(one.BeganAt), truth.Hours(one.EndedAt ?? recording.End));
            tally.Sent(right.Exists(spell => from <= spell.To + SlackHours && until >= spell.From - SlackHours), Where(from, until));
        }

        foreach (var attachment in Batch.Sensors)
        {
            var samples = SampleOrder.Of(attachment, QuantityKind.Temperature, recording.Whole.Series, recording.End);
            var interval = SampleOrder.MedianInterval(samples, TimeSpan.FromMinutes(15));
            foreach (var spell in wanted.Where(spell => TimeSpan.FromHours(spell.To - spell.From) > delay && spell.To > truth.Hours(recording.Cuts.First())))
            {
                if (Shown(samples, spell, delay, shows) is not { } earliest)
                {
                    tally.Unseen();
                    continue;
                }

                var found = mine.Where(one => one.Subject == attachment.Sensor.Value && truth.Hours(one.RaisedAt) <= spell.To + SlackHours + interval.TotalHours && truth.Hours(one.EndedAt ?? recording.End) >= spell.From)
                    .Select(one => (EventTime?)one.RaisedAt).FirstOrDefault();
                tally.Wanted(found is { } at ? (at - earliest) / interval : null, Where(spell.From, spell.To));
                fromCrossing?.Wanted(found is { } then ? (truth.Hours(then) - spell.From - delay.TotalHours) / interval.TotalHours : null, Where(spell.From, spell.To));
            }
        }
    }

    /// <summary>The first sample with which an unbroken run of samples that show it has lasted for the delay; null when there is none within the spell.</summary>
    private EventTime? Shown(IReadOnlyList<Reading> samples, (double From, double To) spell, TimeSpan delay, Func<IReadOnlyList<Reading>, int, bool> shows)
    {
        int? first = null;
        for (var i = 0; i < samples.Count && truth.Hours(samples[i].At) <= spell.To; i++)
        {
            if (truth.Hours(samples[i].At) >= spell.From - SlackHours)
            {
                first = shows(samples, i) ? first ?? i : null;
                // A sensor that stands off, or the noise of a sample, may show it before it is true.
                if (first is { } begin && i > begin && samples[i].At - samples[begin].At >= delay && truth.Hours(samples[i].At) >= spell.From + delay.TotalHours)
                {
                    return samples[i].At;
                }
            }
        }

        return null;
    }

    private string Where(double from, double until) => string.Create(CultureInfo.InvariantCulture, $"{recording.Name} hour {from:0.0}-{until:0.0}");
}
