using FermentWatch.Monitoring.Alerting;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Acts;

/// <summary>The words about acts on alerts, from <c>Texts/Acts.resx</c>.</summary>
public static class ActText
{
    private static readonly TextSource Source = new("Acts");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>What was said about an alert and still counts; null when nothing was.</summary>
    public static string? Said(DateTimeOffset? snoozedUntil, DateTimeOffset? disputedAt, DateTimeOffset? acknowledgedAt, Visit visit)
    {
        ArgumentNullException.ThrowIfNull(visit);
        return snoozedUntil is { } until && until > visit.Snapshot.ComputedAt ? Of("said-snooze", visit.Reader.Moment(until))
            : disputedAt is { } disputed ? Of("said-wrong", visit.Reader.Moment(disputed))
            : acknowledgedAt is { } acknowledged ? Of("said-on-it", visit.Reader.Moment(acknowledged))
            : null;
    }
}

/// <summary>How a form or a link names an act.</summary>
public static class ActWords
{
    /// <summary>Every act with its name, in the order of the buttons. The name is also the key of the button's text.</summary>
    public static IReadOnlyList<(AlertAct Act, string Word)> All { get; } = [(AlertAct.OnIt, "on-it"), (AlertAct.Snooze, "snooze"), (AlertAct.Wrong, "wrong")];

    /// <summary>Other lengths of a snooze, behind the buttons.</summary>
    public static IReadOnlyList<(AlertAct Act, string Word)> Snoozes { get; } =
        [(AlertAct.SnoozeHour, "snooze-hour"), (AlertAct.SnoozeMorning, "snooze-morning"), (AlertAct.SnoozeEvent, "snooze-event")];

    /// <summary>The name of an act.</summary>
    public static string Of(AlertAct act) => All.First(one => one.Act == act).Word;

    /// <summary>The act of a name, or null.</summary>
    public static AlertAct? Find(string word) => All.Concat(Snoozes).Where(one => one.Word == word).Select(one => (AlertAct?)one.Act).FirstOrDefault();
}
