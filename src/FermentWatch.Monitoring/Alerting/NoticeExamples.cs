using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A notice as it may come, of an invented batch.</summary>
/// <param name="Rule">Id of its rule.</param>
/// <param name="Kind">What it tells of.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="Words">What it says.</param>
public sealed record NoticeExample(string Rule, TransitionKind Kind, Severity Severity, NoticeWords Words)
{
    /// <summary>Whether it makes no sound.</summary>
    public bool Silent => Kind is TransitionKind.Cleared;
}

/// <summary>An example of every notice, written by the rules themselves: for the page that shows what may come. A rule without one fails a test.</summary>
public static class NoticeExamples
{
    private static readonly ReasonValue Level = new ReasonValue.Gravity(1.0214);
    private static readonly ReasonValue Sensor = new ReasonValue.Name("probe");

    /// <summary>The examples, in the order of the rules.</summary>
    /// <param name="batch">Name of the invented batch.</param>
    /// <param name="now">When they are written.</param>
    public static IReadOnlyList<NoticeExample> All(string batch, ReceivedAt now)
    {
        var at = EventTime.From(now.ToDateTimeOffset() - TimeSpan.FromHours(3));
        ReasonValue then = new ReasonValue.Moment(at);
        ReasonValue later = new ReasonValue.Moment(at + TimeSpan.FromHours(9));
        ReasonValue Degrees(double celsius, bool apart = false) => new ReasonValue.Degrees(celsius, apart);
        NoticeExample One(string rule, TransitionKind kind, string code, Severity severity, string subject, params ReasonValue[] values) =>
            Told(rule, kind, Reason.Of(code, values), severity, subject, also: null);
        NoticeExample AndStuck(string rule, string code, Severity severity, params ReasonValue[] values) => Told(
            rule, TransitionKind.Raised, Reason.Of(code, values), severity, "probe", Reason.Of("stuck-unknown", Level, new ReasonValue.Odds(0.95)));
        NoticeExample Told(string rule, TransitionKind kind, Reason because, Severity severity, string subject, Reason? also)
        {
            var episode = new AlertEpisode(rule, subject, severity, at, at, ClearedAt: null, because) { ClearedBecause = because, Placement = Placement.InLiquid };
            var alert = new TrackedAlert(
                $"example/{rule}/{subject}/1", rule, subject, severity, at, at, ClearedAt: null, AlertStanding.Raised, AlertStanding.Raised, ToldAt: now,
                TimeSpan.Zero, StateNumber: 1, Repeats: 0, AcknowledgedAt: null, $"example/{rule}/{subject}/1", because);
            var transition = new AlertTransition(kind, alert, episode) { EndedBecause = because, Also = also, IsAlsoNews = also is not null };
            var about = new NoticeSubject(kind, [(View(batch, at), transition)], Sensors: 2, InThread: 1, IsEverything: false, now);
            return new NoticeExample(rule, kind, severity, AlertRuleCatalog.Named(rule).Words(about));
        }

        const TransitionKind Raised = TransitionKind.Raised, Cleared = TransitionKind.Cleared, Withdrawn = TransitionKind.Withdrawn;
        const Severity Action = Severity.Action, Warning = Severity.Warning, Urgent = Severity.Urgent;
        return
        [
            One("temperature-band", Raised, "temperature-above-band", Warning, "probe", Sensor, Degrees(27.8), Degrees(25), then, Degrees(28.1)),
            One("temperature-band", Raised, "temperature-below-band", Warning, "probe", Sensor, Degrees(14.2), Degrees(16), then, Degrees(13.9)),
            AndStuck("temperature-band", "temperature-below-band", Warning, Sensor, Degrees(14.2), Degrees(16), then, Degrees(13.9)),
            One("temperature-band", Cleared, "temperature-back-in-band", Warning, "probe", Sensor, Degrees(24.1), then, new ReasonValue.Length(TimeSpan.FromHours(5)), Degrees(28.1)),
            One("temperature-band", Withdrawn, "temperature-above-band", Warning, "probe", Sensor, Degrees(27.8), Degrees(25), then, Degrees(28.1)),
            One("temperature-danger", Raised, "temperature-deadly", Urgent, "probe", Sensor, Degrees(33.4), Degrees(32)),
            One("temperature-danger", Raised, "temperature-freezing", Urgent, "probe", Sensor, Degrees(-1.6), Degrees(-1)),
            AndStuck("temperature-danger", "temperature-deadly", Urgent, Sensor, Degrees(33.4), Degrees(32)),
            AndStuck("temperature-danger", "temperature-freezing", Urgent, Sensor, Degrees(-1.6), Degrees(-1)),
            One("temperature-danger", Cleared, "temperature-out-of-danger", Urgent, "probe", Sensor, Degrees(29.5), then),
            One("temperature-drop", Raised, "temperature-dropped", Warning, "probe", Sensor, Degrees(14.5), Degrees(5.5, apart: true), new ReasonValue.Length(TimeSpan.FromHours(12))),
            One("temperature-drop", Cleared, "temperature-drop-over", Warning, "probe", Sensor, Degrees(16.5), then),
            One("no-start", Raised, "no-start-yet", Warning, "probe", new ReasonValue.Length(TimeSpan.FromHours(72)), new ReasonValue.Gravity(1.094), then),
            One("no-start", Cleared, "start-seen", Warning, "probe", new ReasonValue.Gravity(0.003, IsDifference: true), then),
            One("stuck", Raised, "stuck-cold", Warning, "batch", Level, new ReasonValue.Odds(0.95)),
            One("stuck", Raised, "stuck-unknown", Warning, "batch", Level, new ReasonValue.Odds(0.95)),
            One("stuck", Cleared, "stuck-over", Warning, "batch", then),
            One("ready-to-stabilize", Raised, "ready-rests", Action, "batch", new ReasonValue.Gravity(0.997), new ReasonValue.Odds(0.95)),
            One("ready-to-stabilize", Cleared, "ready-done", Action, "batch", then),
            One("ready-withdrawn", Raised, "ready-was-wrong-now", Warning, "batch", Level, then),
            .. ((string[])["tannin", "jars", "fining", "clarification", "stabilized", "sweetened"]).Select(wait =>
                One("waiting-over", Raised, "waiting-over-" + wait, Action, wait, then, new ReasonValue.Length(TimeSpan.FromDays(14)))),
            .. ((string[])["airlock", "sulfite", "oak", "racking"]).Select(duty =>
                One("care-due", Raised, "care-due-" + duty, Action, duty, new ReasonValue.Length(TimeSpan.FromDays(21)), then)),
            One("ph-low", Raised, "ph-low-now", Urgent, "probe", new ReasonValue.Figure(2.94, 2), new ReasonValue.Figure(3.2, 2), then),
            One("ph-low", Cleared, "ph-risen", Warning, "probe", new ReasonValue.Figure(3.31, 2), then),
            One("fermenting-again", Raised, "again-falls", Warning, "batch", Level, new ReasonValue.Gravity(0.0021, IsDifference: true), then),
            One("fermenting-again", Raised, "again-in-bottles", Urgent, "batch", Level, new ReasonValue.Gravity(0.0021, IsDifference: true), then),
            One("fermenting-again", Raised, "again-closed", Urgent, "batch", Level, new ReasonValue.Gravity(0.0021, IsDifference: true), then),
            One("fermenting-again", Raised, "again-pressed", Urgent, "batch", new ReasonValue.Figure(24, 0), then),
            One("fermenting-again", Cleared, "again-over", Warning, "batch", then),
            One("sugar-mixing", Raised, "mixing-seen", Severity.Info, "batch", new ReasonValue.Gravity(0.0034, IsDifference: true), Level, then),
            One("sentinel-due", Raised, "sentinel-reached", Action, "day-14", new ReasonValue.Count(14), then),
            One("sensor-silent", Raised, "sensor-silent", Warning, "probe", Sensor, new ReasonValue.Length(TimeSpan.FromHours(2)), then),
            One("sensor-silent", Raised, "sensor-silent-beyond-habit", Warning, "probe", Sensor, new ReasonValue.Length(TimeSpan.FromHours(3)), then, new ReasonValue.Length(TimeSpan.FromHours(2.3))),
            One("sensor-silent", Cleared, "sensor-heard-again", Warning, "probe", Sensor),
            One("sensor-implausible", Raised, "sensor-implausible-now", Warning, "probe", Sensor, new ReasonValue.Count(4), new ReasonValue.Count(10), then),
            One("sensor-implausible", Cleared, "sensor-plausible-again", Warning, "probe", Sensor, new ReasonValue.Count(10), then),
            One("nutrient-due", Raised, "nutrient-ahead", Action, "part-2", new ReasonValue.Count(2), new ReasonValue.Count(4), new ReasonValue.Figure(6.2, 1), then, later),
            One("nutrient-due", Raised, "nutrient-reached", Action, "part-2", new ReasonValue.Count(2), new ReasonValue.Count(4), new ReasonValue.Figure(6.2, 1), then, later),
            One("nutrient-due", Raised, "nutrient-missed", Action, "part-2", new ReasonValue.Count(2), new ReasonValue.Count(4), new ReasonValue.Figure(6.2, 1), then, later),
            One("battery-low", Raised, "battery-runs-down", Action, "probe", Sensor, new ReasonValue.Length(TimeSpan.FromDays(13.5))),
            One("battery-low", Cleared, "battery-replaced", Action, "probe", Sensor),
            One("step-found", Raised, "step-seen", Action, "step", new ReasonValue.Gravity(0.0214, IsDifference: true), then),
            One("step-found", Raised, "sugar-seen", Action, "step", new ReasonValue.Gravity(0.0214, IsDifference: true), then),
            One("forecast-moved", Raised, "forecast-moved-to", Severity.Info, "batch", then, then, Level, Level, Level),
        ];
    }

    private static BatchView View(string name, EventTime at) => new()
    {
        Batch = new Batch(
            new BatchId("example"), name, FermentKind.Mead, Vessel: null, Volume: null, at, OriginalGravity: null, TemperatureBand: null, Tolerance: null, ValueList.Of<SensorAttachment>()),
        Now = at,
        Phase = new PhaseAssessment(Phase.Unknown, Reason.Of("no-readings"), RatePerDay: null),
        Gravity = ValueList.Of<GravityPoint>(),
        SetAside = ValueList.Of<SetAsidePoint>(),
        Temperature = ValueList.Of<TemperaturePoint>(),
        GravityGaps = ValueList.Of<Gap>(),
        Events = ValueList.Of<TimelineEvent>(),
        Sensors = ValueList.Of<SensorStatus>(),
        Episodes = ValueList.Of<AlertEpisode>(),
        GravityCounts = default,
    };
}
