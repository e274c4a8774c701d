using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>A draft of every notice that there is, planned by the rules themselves, with names and numbers as long as they get.</summary>
public static class NoticeSamples
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    private static readonly Dictionary<string, Func<string, OutboxDraft>> All = new()
    {
        ["temperature-above"] = name => Temperature(name, TransitionKind.Raised, isAbove: true, Placement.InLiquid),
        ["temperature-above-insulated"] = name => Temperature(name, TransitionKind.Raised, isAbove: true, Placement.InsulatedOnGlass),
        ["temperature-above-bare-glass"] = name => Temperature(name, TransitionKind.Repeated, isAbove: true, Placement.BareGlass),
        ["temperature-below"] = name => Temperature(name, TransitionKind.Raised, isAbove: false, Placement.InsulatedOnGlass),
        ["temperature-below-bare-glass"] = name => Temperature(name, TransitionKind.Repeated, isAbove: false, Placement.BareGlass),
        ["temperature-cleared"] = name => Temperature(name, TransitionKind.Cleared, isAbove: false, Placement.InLiquid),
        ["temperature-withdrawn"] = name => Temperature(name, TransitionKind.Withdrawn, isAbove: true, Placement.InLiquid),
        ["temperature-past-one"] = name => Temperature(name, TransitionKind.FoundInPast, isAbove: true, Placement.InLiquid),
        ["temperature-past"] = name => Temperature(name, TransitionKind.FoundInPast, isAbove: true, Placement.InLiquid, times: 12),
        ["silent"] = name => Silent(TransitionKind.Raised, [[name]], [1], isHeard: true),
        ["silent-never-heard"] = name => Silent(TransitionKind.Raised, [[name]], [1], isHeard: false),
        ["silent-whole-batch"] = name => Silent(TransitionKind.Raised, [[name, name + "b"]], [2], isHeard: true),
        ["silent-several"] = name => Silent(TransitionKind.Repeated, [[name, name + "b"]], [3], isHeard: true),
        ["silent-in-batches"] = name => Silent(TransitionKind.Raised, [[name], [name + "b"]], [2, 2], isHeard: true),
        ["silent-everywhere"] = name => Silent(TransitionKind.Raised, [[name], [name + "b"]], [1, 1], isHeard: true),
        ["silent-heard-again"] = name => Silent(TransitionKind.Cleared, [[name]], [1], isHeard: true),
        ["silent-heard-again-several"] = name => Silent(TransitionKind.Cleared, [[name, name + "b"]], [2], isHeard: true),
        ["silent-detached"] = name => Silent(TransitionKind.Cleared, [[name]], [1], isHeard: false),
    };

    public static ReceivedAt Now { get; } = ReceivedAt.From(Start.AddHours(6));

    public static TheoryData<string> Names => [.. All.Keys];

    public static OutboxDraft Of(string sample, string name) => All[sample](name);

    private static OutboxDraft Temperature(string name, TransitionKind kind, bool isAbove, Placement placement, int times = 1)
    {
        // The short name stays short; a long one meets the longest numbers and a moment of another day.
        var isLong = name.Length > 20;
        var sensor = new ReasonValue.Name(isLong ? name : "probe");
        var began = EventTime.From(isLong ? Start.AddDays(-3).AddHours(14.5) : Start.AddHours(4.5));
        var (latest, limit, peak) = isAbove ? (27.8, 25.0, 28.1) : (-10.2, -10.1, -10.4);
        var because = Reason.Of(
            isAbove ? "temperature-above-band" : "temperature-below-band",
            sensor, new ReasonValue.Degrees(latest), new ReasonValue.Degrees(limit), new ReasonValue.Moment(began), new ReasonValue.Degrees(peak));
        var cleared = Reason.Of(
            "temperature-back-in-band",
            sensor, new ReasonValue.Degrees(-10.5), new ReasonValue.Moment(began), new ReasonValue.Length(TimeSpan.FromHours(47)), new ReasonValue.Degrees(peak));
        var episode = new AlertEpisode("temperature-band", sensor.Text, Severity.Warning, began, began, ClearedAt: null, because)
        {
            ClearedBecause = cleared,
            Placement = placement,
        };
        var alert = Alert(episode, "a");
        return Plan([(View("quince-mead", name), Result([.. Enumerable.Repeat(new AlertTransition(kind, alert, episode), times)], 1))]);
    }

    private static OutboxDraft Silent(TransitionKind kind, string[][] names, int[] sensors, bool isHeard)
    {
        var since = EventTime.From(Start.AddDays(-4).AddHours(14.5));
        var batches = names.Select((silent, index) =>
        {
            var transitions = silent.Select(name =>
            {
                var because = Reason.Of(
                    isHeard ? "sensor-silent" : "sensor-never-heard",
                    new ReasonValue.Name(name), new ReasonValue.Length(TimeSpan.FromMinutes(89)), new ReasonValue.Moment(since));
                var episode = new AlertEpisode("sensor-silent", name, Severity.Warning, since, since, ClearedAt: null, because);
                return new AlertTransition(kind, Alert(episode, "group"), kind is TransitionKind.Cleared ? null : episode)
                {
                    EndedBecause = isHeard
                        ? Reason.Of("sensor-heard-again", new ReasonValue.Name(name))
                        : Reason.Of("sensor-detached", new ReasonValue.Name(name), new ReasonValue.Moment(since)),
                };
            }).ToArray();
            return (View("batch-" + index, silent[0]), Result(transitions, sensors[index]));
        });
        return Plan([.. batches]);
    }

    private static TrackedAlert Alert(AlertEpisode episode, string thread) => new(
        episode.Subject, episode.Rule, episode.Subject, episode.Severity, episode.BeganAt, episode.RaisedAt, EventTime.From(Start), AlertStanding.Cleared,
        AlertStanding.Cleared, ToldAt: null, TimeSpan.Zero, StateNumber: 1, Repeats: 0, AcknowledgedAt: null, thread, episode.Because);

    private static StepResult Result(AlertTransition[] transitions, int sensors) => new(
        AlertSet.Empty with
        {
            Alerts = ValueList.Of(transitions.Select(transition => transition.Alert)),
            Listening = ValueList.Of(Enumerable.Range(0, sensors).Select(number =>
                new SensorListening(new SensorId("s" + number), AlertState.Start, ValueList.Of<SeriesListening>()))),
        },
        ValueList.Of<AlertTransition>(transitions),
        MustStore: true);

    private static OutboxDraft Plan(IReadOnlyList<(BatchView, StepResult)> batches) =>
        Assert.Single(NoticePlan.For(batches, Settings, new Pass(Now, TimeSpan.Zero, TimeZoneInfo.Utc)).Drafts);

    private static BatchView View(string id, string name) => new()
    {
        Batch = new Batch(
            new BatchId(id), name, FermentKind.Mead, Vessel: null, Volume: null, new EventTime(0), OriginalGravity: null, TemperatureBand: null, Tolerance: null,
            ValueList.Of<SensorAttachment>()),
        Now = EventTime.From(Start),
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
