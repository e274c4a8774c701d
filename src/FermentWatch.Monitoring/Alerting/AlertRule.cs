using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Finds episodes over samples in event order.</summary>
public delegate IEnumerable<AlertEpisode> SampleRule(SampleFacts facts, AlertSettings settings);

/// <summary>Moves the set's timers on by one pass and gives the episodes that stand after it.</summary>
public delegate TickResult TickRule(AlertSet was, BatchView view, AlertSettings settings, Pass pass);

/// <summary>What a rule on ticks found.</summary>
/// <param name="Now">The set with moved timers.</param>
/// <param name="Standing">One open episode for each subject for which the alert stands.</param>
/// <param name="Ended">Why each subject that was standing before and is not any more ended.</param>
public sealed record TickResult(AlertSet Now, IReadOnlyList<AlertEpisode> Standing, IReadOnlyDictionary<string, Reason> Ended);

/// <summary>Writes the notice for transitions of one rule and one kind that are told together: one, or several when the rule says so.</summary>
public delegate NoticeWords NoticeWriter(NoticeSubject about);

/// <summary>What a notice says.</summary>
/// <param name="Title">At most 40 characters once written out, the number included.</param>
/// <param name="Body">Sentences: what happened, how sure and why, what to do now. At most 240 characters together.</param>
public sealed record NoticeWords(Reason Title, ValueList<Reason> Body);

/// <summary>What a notice is about.</summary>
/// <param name="Kind">What changed.</param>
/// <param name="Parts">The transitions with the batch of each; at least one.</param>
/// <param name="Sensors">Sensors that the batches of the parts have in all, those in the room included.</param>
/// <param name="InThread">Alerts that share the notice's thread, those that ended earlier included.</param>
/// <param name="IsEverything">True when the parts cover every sensor of every batch, of several batches.</param>
/// <param name="Now">When it is written.</param>
public sealed record NoticeSubject(
    TransitionKind Kind,
    IReadOnlyList<(BatchView View, AlertTransition Transition)> Parts,
    int Sensors,
    int InThread,
    bool IsEverything,
    ReceivedAt Now)
{
    /// <summary>Whether it tells of an end: an all-clear or a withdrawal.</summary>
    public bool IsOver => Kind is TransitionKind.Cleared or TransitionKind.Withdrawn;

    /// <summary>Name of the batch of the first part.</summary>
    public ReasonValue Batch => new ReasonValue.Name(Parts[0].View.Batch.Name);

    /// <summary>Evidence of the first part as the facts show it now, else as it was last told.</summary>
    public Reason Because => Parts[0].Transition.Episode?.Because ?? Parts[0].Transition.Alert.Because;
}

/// <summary>One kind of alert: an entry of <see cref="AlertRuleCatalog"/>. It lives on one time line, so it has one of the two functions.</summary>
/// <param name="Id">Lower-case words joined by hyphens; part of every key, so never renamed.</param>
/// <param name="Repeat">Its repeats.</param>
/// <param name="OnSamples">For a rule on the samples' time line.</param>
/// <param name="OnTicks">For a rule on listening time.</param>
/// <param name="Words">Writes its notices.</param>
/// <param name="IsToldTogether">True when subjects for which it is raised in one pass likely share a cause and get one notice.</param>
/// <param name="IsForDigestAtNight">True when what it finds in a listener's night comes in the daily digest instead of as a notice in the morning.</param>
public sealed record AlertRule(
    string Id,
    Func<AlertSettings, RepeatSettings> Repeat,
    SampleRule? OnSamples,
    TickRule? OnTicks,
    NoticeWriter Words,
    bool IsToldTogether = false,
    bool IsForDigestAtNight = false);
