using System.Collections.Concurrent;
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

    private static readonly ConcurrentDictionary<string, byte> Planned = new();

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
        ["silent-beyond-habit"] = name => One(name, "sensor-silent", TransitionKind.Raised, "sensor-silent-beyond-habit", sensor => [sensor, new ReasonValue.Length(TimeSpan.FromMinutes(209)), new ReasonValue.Moment(EventTime.From(Start.AddDays(-4).AddHours(14.5))), new ReasonValue.Length(TimeSpan.FromMinutes(139))]),
        ["silent-never-heard"] = name => Silent(TransitionKind.Raised, [[name]], [1], isHeard: false),
        ["silent-whole-batch"] = name => Silent(TransitionKind.Raised, [[name, name + "b"]], [2], isHeard: true),
        ["silent-several"] = name => Silent(TransitionKind.Repeated, [[name, name + "b"]], [3], isHeard: true),
        ["silent-in-batches"] = name => Silent(TransitionKind.Raised, [[name], [name + "b"]], [2, 2], isHeard: true),
        ["silent-everywhere"] = name => Silent(TransitionKind.Raised, [[name], [name + "b"]], [1, 1], isHeard: true),
        ["silent-heard-again"] = name => Silent(TransitionKind.Cleared, [[name]], [1], isHeard: true),
        ["silent-heard-again-several"] = name => Silent(TransitionKind.Cleared, [[name, name + "b"]], [2], isHeard: true),
        ["silent-detached"] = name => Silent(TransitionKind.Cleared, [[name]], [1], isHeard: false),
        ["danger-hot"] = name => One(name, "temperature-danger", TransitionKind.Raised, "temperature-deadly", sensor => [sensor, Hot, new ReasonValue.Degrees(32)], Severity.Urgent),
        ["danger-cold"] = name => One(name, "temperature-danger", TransitionKind.Repeated, "temperature-freezing", sensor => [sensor, new ReasonValue.Degrees(-10.5), new ReasonValue.Degrees(-1)], Severity.Urgent),
        ["danger-withdrawn"] = name => One(name, "temperature-danger", TransitionKind.Withdrawn, "temperature-deadly", sensor => [sensor, Hot, new ReasonValue.Degrees(32)], Severity.Urgent),
        ["danger-cleared"] = name => One(name, "temperature-danger", TransitionKind.Cleared, "temperature-out-of-danger", sensor => [sensor, Hot, OtherDay], Severity.Urgent),
        ["drop"] = name => One(name, "temperature-drop", TransitionKind.Raised, "temperature-dropped", sensor => [sensor, Hot, new ReasonValue.Degrees(10.5, IsDifference: true), new ReasonValue.Length(TimeSpan.FromHours(12))]),
        ["drop-cleared"] = name => One(name, "temperature-drop", TransitionKind.Cleared, "temperature-drop-over", sensor => [sensor, Hot, OtherDay]),
        ["no-start"] = name => One(name, "no-start", TransitionKind.Raised, "no-start-yet", _ => [new ReasonValue.Length(TimeSpan.FromHours(96)), new ReasonValue.Gravity(1.105), OtherDay]),
        ["no-start-cleared"] = name => One(name, "no-start", TransitionKind.Cleared, "start-seen", _ => [new ReasonValue.Gravity(0.003, IsDifference: true), OtherDay]),
        ["no-start-heard"] = name => One(name, "no-start", TransitionKind.Cleared, "start-heard", _ => [new ReasonValue.Figure(1240, 0), OtherDay]),
        ["stuck"] = name => One(name, "stuck", TransitionKind.Raised, "stuck-unknown", _ => [Level, new ReasonValue.Odds(0.97)]),
        ["stuck-hot"] = name => One(name, "stuck", TransitionKind.Repeated, "stuck-hot", _ => [Level, new ReasonValue.Odds(0.999)]),
        ["stuck-cleared"] = name => One(name, "stuck", TransitionKind.Cleared, "stuck-over", _ => [OtherDay]),
        ["ready"] = name => One(name, "ready-to-stabilize", TransitionKind.Raised, "ready-rests", _ => [Level, new ReasonValue.Odds(0.97)], Severity.Action),
        ["ready-cleared"] = name => One(name, "ready-to-stabilize", TransitionKind.Cleared, "ready-done", _ => [OtherDay], Severity.Action),
        ["ready-fed"] = name => One(name, "ready-to-stabilize", TransitionKind.Cleared, "ready-fed", _ => [OtherDay], Severity.Action),
        ["waiting-tannin"] = name => Waiting(name, "tannin", 14),
        ["waiting-jars"] = name => Waiting(name, "jars", 7),
        ["waiting-fining"] = name => Waiting(name, "fining", 10),
        ["waiting-clarification"] = name => Waiting(name, "clarification", 7),
        ["waiting-stabilized"] = name => Waiting(name, "stabilized", 2),
        ["waiting-sweetened"] = name => Waiting(name, "sweetened", 14),
        ["waiting-cleared"] = name => One(name, "waiting-over", TransitionKind.Cleared, "duty-done", _ => [OtherDay], Severity.Action, "tannin"),
        ["sentinel"] = name => One(name, "sentinel-due", TransitionKind.Raised, "sentinel-reached", _ => [new ReasonValue.Count(30), OtherDay], Severity.Action, "day-30"),
        ["care-airlock"] = name => Care(name, "airlock", 21),
        ["care-sulfite"] = name => Care(name, "sulfite", 49),
        ["care-oak"] = name => Care(name, "oak", 7),
        ["ph-low"] = name => One(name, "ph-low", TransitionKind.Raised, "ph-low-now", _ => [Acidity(2.94), Acidity(3.2), OtherDay], Severity.Urgent),
        ["ph-low-cleared"] = name => One(name, "ph-low", TransitionKind.Cleared, "ph-risen", _ => [Acidity(3.31), OtherDay]),
        ["ph-low-withdrawn"] = name => One(name, "ph-low", TransitionKind.Withdrawn, "ph-low-now", _ => [Acidity(2.94), Acidity(3.2), OtherDay]),
        ["again"] = name => One(name, "fermenting-again", TransitionKind.Raised, "again-falls", _ => [Level, new ReasonValue.Gravity(0.0021, IsDifference: true), OtherDay]),
        ["again-bottles"] = name => One(name, "fermenting-again", TransitionKind.Repeated, "again-in-bottles", _ => [Level, new ReasonValue.Gravity(0.0021, IsDifference: true), OtherDay], Severity.Urgent),
        ["again-closed"] = name => One(name, "fermenting-again", TransitionKind.Raised, "again-closed", _ => [Level, new ReasonValue.Gravity(0.0021, IsDifference: true), OtherDay], Severity.Urgent),
        ["again-cleared"] = name => One(name, "fermenting-again", TransitionKind.Cleared, "again-over", _ => [OtherDay]),
        ["implausible"] = name => One(name, "sensor-implausible", TransitionKind.Raised, "sensor-implausible-now", sensor => [sensor, new ReasonValue.Count(10), new ReasonValue.Count(10), OtherDay]),
        ["implausible-cleared"] = name => One(name, "sensor-implausible", TransitionKind.Cleared, "sensor-plausible-again", sensor => [sensor, new ReasonValue.Count(10), OtherDay]),
        ["implausible-withdrawn"] = name => One(name, "sensor-implausible", TransitionKind.Withdrawn, "sensor-implausible-now", sensor => [sensor, new ReasonValue.Count(3), new ReasonValue.Count(10), OtherDay]),
        ["step"] = name => One(name, "step-found", TransitionKind.Raised, "step-seen", _ => [new ReasonValue.Gravity(0.0214, IsDifference: true), OtherDay], Severity.Action, "step"),
        ["step-sugar"] = name => One(name, "step-found", TransitionKind.Raised, "sugar-seen", _ => [new ReasonValue.Gravity(0.0214, IsDifference: true), OtherDay], Severity.Action, "step"),
        ["stuck-in-the-cold"] = name => Merged(name, "temperature-band", "temperature-below-band"),
        ["stuck-in-deadly-heat"] = name => Merged(name, "temperature-danger", "temperature-deadly"),
        ["stuck-in-deadly-heat-told-before"] = name => Merged(name, "temperature-danger", "temperature-deadly", TransitionKind.Repeated),
        ["stuck-in-frost"] = name => Merged(name, "temperature-danger", "temperature-freezing"),
        ["stuck-in-frost-told-before"] = name => Merged(name, "temperature-danger", "temperature-freezing", TransitionKind.Repeated),
        ["stuck-in-the-heat"] = name => Merged(name, "temperature-band", "temperature-above-band"),
        ["stuck-after-a-drop"] = name => Merged(name, "temperature-drop", "temperature-dropped"),
        ["sentinel-hot"] = name => One(name, "sentinel-due", TransitionKind.Raised, "sentinel-hot", _ => [Hot, OtherDay], Severity.Action, "hot-day"),
        ["care-top-up"] = name => Care(name, "top-up", 30),
        ["care-lees"] = name => Care(name, "lees", 28),
        ["care-racking"] = name => Care(name, "racking", 28),
        ["nutrient-ahead"] = name => Nutrient(name, "ahead", TransitionKind.Raised),
        ["nutrient-ahead-today"] = name => Nutrient(name, "ahead-today", TransitionKind.Raised),
        ["nutrient-mark"] = name => NutrientMark(name, "nutrient-mark", OtherDay, OtherDay, OtherDay),
        ["nutrient-mark-open"] = name => NutrientMark(name, "nutrient-mark-open", OtherDay, OtherDay),
        ["nutrient-reached"] = name => Nutrient(name, "reached", TransitionKind.Repeated),
        ["nutrient-missed"] = name => Nutrient(name, "missed", TransitionKind.Raised),
        ["nutrient-moved-on"] = name => One(name, "nutrient-due", TransitionKind.Cleared, "nutrient-moved-on", _ => [OtherDay], Severity.Action, "part-2"),
        ["battery"] = name => One(name, "battery-low", TransitionKind.Raised, "battery-runs-down", sensor => [sensor, new ReasonValue.Length(TimeSpan.FromDays(13.5))], Severity.Action),
        ["battery-replaced"] = name => One(name, "battery-low", TransitionKind.Cleared, "battery-replaced", sensor => [sensor], Severity.Action),
        ["ready-withdrawn"] = name => One(name, "ready-withdrawn", TransitionKind.Raised, "ready-was-wrong-now", _ => [Level, OtherDay]),
        ["ready-withdrawn-by-hand"] = name => One(name, "ready-withdrawn", TransitionKind.Raised, "ready-hand-disagrees", _ => [Level, Level]),
    };

    private static ReasonValue Level => new ReasonValue.Gravity(1.0214);

    private static ReasonValue Hot => new ReasonValue.Degrees(33.4);

    private static ReasonValue OtherDay => new ReasonValue.Moment(EventTime.From(Start.AddDays(-3).AddHours(14.5)));

    public static ReceivedAt Now { get; } = ReceivedAt.From(Start.AddHours(6));

    public static TheoryData<string> Names => [.. All.Keys];

    /// <summary>Ids of the rules that have a sample.</summary>
    public static IReadOnlyCollection<string> Rules()
    {
        foreach (var sample in All.Values)
        {
            sample("Quince mead");
        }

        return [.. Planned.Keys];
    }

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

    private static OutboxDraft Waiting(string name, string wait, int days) => One(
        name, "waiting-over", TransitionKind.Raised, "waiting-over-" + wait, _ => [OtherDay, new ReasonValue.Length(TimeSpan.FromDays(days))], Severity.Action, wait);

    private static OutboxDraft Care(string name, string duty, int days) => One(
        name, "care-due", TransitionKind.Repeated, "care-due-" + duty, _ => [new ReasonValue.Length(TimeSpan.FromDays(days)), OtherDay], Severity.Action, duty);

    /// <summary>The notice of a temperature that a stuck ferment yields to.</summary>
    private static OutboxDraft Merged(string name, string rule, string code, TransitionKind kind = TransitionKind.Raised)
    {
        var sensor = new ReasonValue.Name(name.Length > 20 ? name : "probe");
        var began = EventTime.From(Start.AddHours(-70));
        var episode = new AlertEpisode(rule, sensor.Text, Severity.Warning, began, began, ClearedAt: null, Reason.Of(code, sensor, Hot, new ReasonValue.Degrees(18.5), OtherDay));
        var transition = new AlertTransition(kind, Alert(episode, "a"), episode) { Also = Reason.Of("stuck-unknown", Level, new ReasonValue.Odds(0.97)), IsAlsoNews = true };
        return Plan([(View("quince-mead", name), Result([transition], 1))]);
    }

    /// <summary>As the calendar words it.</summary>
    private static OutboxDraft NutrientMark(string name, string code, params ReasonValue[] times) => One(
        name, "nutrient-due", TransitionKind.Raised, code, _ => [new ReasonValue.Count(2), new ReasonValue.Count(4), new ReasonValue.Figure(1206.2, 1), .. times], Severity.Action, "part-2");

    private static OutboxDraft Nutrient(string name, string phase, TransitionKind kind) => One(
        name, "nutrient-due", kind, "nutrient-" + phase, _ => [new ReasonValue.Count(2), new ReasonValue.Count(4), new ReasonValue.Figure(1206.2, 1), OtherDay, OtherDay], Severity.Action, "part-2");

    private static ReasonValue.Figure Acidity(double value) => new(value, 2);

    /// <summary>The notice of a rule with one subject, whose reason has these values.</summary>
    private static OutboxDraft One(string name, string rule, TransitionKind kind, string code, Func<ReasonValue, ReasonValue[]> values, Severity severity = Severity.Warning, string? subject = null)
    {
        var sensor = new ReasonValue.Name(name.Length > 20 ? name : "probe");
        var because = Reason.Of(code, values(sensor));
        var began = EventTime.From(Start.AddHours(-70));
        var episode = new AlertEpisode(rule, subject ?? sensor.Text, severity, began, began, ClearedAt: null, because) { ClearedBecause = because };
        return Plan([(View("quince-mead", name), Result([new AlertTransition(kind, Alert(episode, "a"), episode)], 1))]);
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

    private static OutboxDraft Plan(IReadOnlyList<(BatchView View, StepResult Result)> batches)
    {
        Planned.TryAdd(batches[0].Result.Transitions[0].Alert.Rule, 0);
        return Assert.Single(NoticePlan.For(batches, Settings, new Pass(Now, TimeSpan.Zero, TimeZoneInfo.Utc)).Drafts);
    }

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
