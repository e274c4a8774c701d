using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>battery-low</c>: a sensor's battery will not outlast the ferment. The subject is the sensor. One in volts tells how long it lasts only where
/// somebody said at how many its device stops.</summary>
public static class BatteryLowRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "battery-low";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Battery.Repeat, OnSamples: null, Tick, Words);

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var standing = new List<AlertEpisode>();
        var ended = new Dictionary<string, Reason>();
        foreach (var battery in view.Batteries)
        {
            var name = new ReasonValue.Name(battery.Sensor.Value);
            var told = was.Alerts.LastOrDefault(alert => alert.Rule == Id && alert.Subject == battery.Sensor.Value && alert.Standing is AlertStanding.Raised);
            // Too little to tell, as after a change of the battery, ends nothing; a battery that no longer falls does.
            var daysLeft = battery.Trend.DaysLeft ?? battery.Trend.DaysLeftTo(settings.Battery.StopVolts);
            var left = daysLeft ?? (told is not null && battery.Trend.NotYet is { Code: "battery-short" } ? 0 : double.PositiveInfinity);
            if (settings.Battery.Enabled && left <= (told is null ? settings.Battery.Days : settings.Battery.ClearDays) && (told is not null || left < DaysToGo(view)))
            {
                var because = daysLeft is { } days ? Reason.Of("battery-runs-down", name, new ReasonValue.Length(TimeSpan.FromDays(days))) : told!.Because;
                standing.Add(new AlertEpisode(Id, battery.Sensor.Value, Severity.Action, view.Now, view.Now, ClearedAt: null, because) { EvidenceAt = view.Now });
            }
            else if (told is not null)
            {
                ended[battery.Sensor.Value] = Reason.Of("battery-replaced", name);
            }
        }

        return new TickResult(was, standing, ended);
    }

    /// <summary>Days until the ferment has likely ended; without end where nobody knows, or where the batch is watched for long.</summary>
    private static double DaysToGo(BatchView view) =>
        view.Stage is { Stage: not BatchStage.Fermenting } || view.Forecast?.Finish.P95 is not { } finish ? double.PositiveInfinity : (finish - view.Now).TotalDays;

    private static NoticeWords Words(NoticeSubject about) => about.IsOver
        ? EndedNotice.Words(about)
        : new NoticeWords(Reason.Of("title-battery", about.Batch, about.Because.Values[1]), ValueList.Of(about.Because, Reason.Of("ventilate-first"), Reason.Of("battery-change")));
}
