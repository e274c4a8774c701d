using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>The all-clear and the withdrawal that most rules share.</summary>
internal static class EndedNotice
{
    /// <summary>Why an alert ended that needs no words of its own: another one tells on from there.</summary>
    public static Reason ToldOn { get; } = Reason.Of("told-on");

    /// <param name="about">What ended.</param>
    /// <param name="also">What to do about a false alarm, or null.</param>
    public static NoticeWords Words(NoticeSubject about, Reason? also = null)
    {
        var transition = about.Parts[0].Transition;
        if (about.Kind is TransitionKind.Withdrawn)
        {
            return new NoticeWords(
                Reason.Of("title-withdrawn", about.Batch),
                ValueList.Of<Reason>([Reason.Of("alert-withdrawn", new ReasonValue.Moment(transition.Alert.RaisedAt)), .. also is null ? [] : new[] { also, Reason.Of("ventilate-first") }]));
        }

        return new NoticeWords(
            Reason.Of("title-ended", about.Batch),
            ValueList.Of(transition.Episode?.ClearedBecause ?? transition.EndedBecause ?? Reason.Of("alert-ended")));
    }
}
