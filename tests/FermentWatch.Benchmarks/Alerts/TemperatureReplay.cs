using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Runs the rules on temperatures over a whole recording: they live on the samples' own time line.</summary>
internal static class TemperatureReplay
{
    // The truth lists spells of at least four hours; a shorter one is true as well where the sensor's own samples lie outside for the delay.
    private const double SlackHours = 2;

    public static void Run(BatchFacts facts, FermentTruth truth, string name, AlertTally band)
    {
        var end = facts.Series.SelectMany(series => series.Readings).Select(reading => reading.At).DefaultIfEmpty().Max();
        var settings = AlertSettings.Default with { Only = ValueList.Of<string>(TemperatureBandRule.Id) };
        var episodes = SampleRules.Episodes(new SampleFacts(facts.Batch, facts.Series, end), settings);
        double Hours(EventTime at) => (at - truth.InoculatedAt).TotalHours;
        foreach (var episode in episodes)
        {
            var (from, until) = (Hours(episode.BeganAt), Hours(episode.ClearedAt ?? end));
            band.Sent(
                truth.Excursions.Any(spell => from <= spell.To + SlackHours && until >= spell.From - SlackHours),
                string.Create(CultureInfo.InvariantCulture, $"{name} from hour {from:0.0} to {until:0.0}"));
        }

        foreach (var spell in truth.Excursions)
        {
            foreach (var attachment in facts.Batch.Sensors)
            {
                var samples = SampleOrder.Of(attachment, QuantityKind.Temperature, facts.Series, end);
                var within = samples.Where(sample => Hours(sample.At) >= spell.From && Hours(sample.At) <= spell.To).ToList();
                var interval = SampleOrder.MedianInterval(samples, TimeSpan.FromMinutes(15));
                // Wanted is what truly lasts for longer than the delay.
                var earliest = within.Count < 3 ? -1 : within.FindIndex(1, sample => sample.At - within[0].At >= settings.TemperatureBand.OnDelayInLiquid);
                if (earliest > 0 && earliest < within.Count - 2)
                {
                    var raised = episodes.Where(one => one.Subject == attachment.Sensor.Value && Hours(one.RaisedAt) <= spell.To + SlackHours && Hours(one.ClearedAt ?? end) >= spell.From)
                        .Select(one => (EventTime?)one.RaisedAt).FirstOrDefault();
                    // It could be told when the sensor itself has shown a value outside for the delay: one that rounds, or stands a little off, shows it later.
                    var shown = within.FindIndex(sample => facts.Batch.TemperatureBand is { } limits && (sample.Value > limits.High.Celsius || sample.Value < limits.Low.Celsius));
                    var first = shown < 0 ? earliest : within.FindIndex(shown, sample => sample.At - within[shown].At >= settings.TemperatureBand.OnDelayInLiquid);
                    band.Wanted(raised is { } at ? (at - within[first < 0 ? earliest : first].At) / interval : null, string.Create(CultureInfo.InvariantCulture, $"{name} from hour {spell.From:0.0} to {spell.To:0.0}"));
                }
            }
        }
    }
}
