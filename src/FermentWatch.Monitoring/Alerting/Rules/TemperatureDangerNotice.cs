using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Notices of <c>temperature-danger</c>.</summary>
internal static class TemperatureDangerNotice
{
    public static NoticeWords Words(NoticeSubject about)
    {
        var because = about.Because;
        if (about.IsOver)
        {
            return EndedNotice.Words(about, about.Kind is TransitionKind.Withdrawn ? Reason.Of("undo-remedy") : null);
        }

        var isHot = because.Code == "temperature-deadly";
        var title = Reason.Of(isHot ? "title-danger-hot" : "title-danger-cold", about.Batch, because.Values[1], because.Values[2]);
        if (about.Parts[0].Transition.Also is { } stuck)
        {
            return MergedNotice.OfDanger(about, title, stuck, isHot);
        }

        return new NoticeWords(
            title,
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of(isHot ? "cool-at-once" : "warm-before-it-bursts")));
    }
}
