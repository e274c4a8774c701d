using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Notices of <c>sensor-silent</c>: one for all sensors that fell silent together, naming what they share.</summary>
internal static class SensorSilentNotice
{
    public static NoticeWords Words(NoticeSubject about) => about.Kind switch
    {
        TransitionKind.Cleared or TransitionKind.Withdrawn => Ended(about),
        _ when about.Parts.Count > 1 => Together(about),
        _ => Single(about),
    };

    private static NoticeWords Single(NoticeSubject about)
    {
        var (view, transition) = about.Parts[0];
        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-silent", new ReasonValue.Name(view.Batch.Name), because.Values[1]),
            ValueList.Of(because, Reason.Of("silence-proves-nothing"), Reason.Of("ventilate-first"), Reason.Of("check-sensor")));
    }

    private static NoticeWords Together(NoticeSubject about)
    {
        var batches = about.Parts.Select(part => part.View.Batch).DistinctBy(batch => batch.Id).ToList();
        var reasons = about.Parts.Select(part => part.Transition.Episode?.Because ?? part.Transition.Alert.Because).ToList();
        var longest = reasons.MaxBy(reason => ((ReasonValue.Length)reason.Values[1]).Span)!;
        var count = new ReasonValue.Count(about.Parts.Count);
        var batch = new ReasonValue.Name(batches[0].Name);
        var title = batches.Count > 1
            ? Reason.Of("title-silent-several-batches", count, longest.Values[1])
            : Reason.Of("title-silent-several", batch, count, longest.Values[1]);
        var what = about.IsEverything ? Reason.Of("silent-everywhere", count, new ReasonValue.Count(batches.Count), longest.Values[2])
            : batches.Count > 1 ? Reason.Of("silent-in-batches", count, batch, new ReasonValue.Count(batches.Count - 1), longest.Values[2])
            : about.Parts.Count == about.Sensors ? Reason.Of("silent-whole-batch", count, longest.Values[2])
            : Reason.Of("silent-several", count, reasons[0].Values[0], longest.Values[2]);
        return new NoticeWords(
            title, ValueList.Of(what, Reason.Of("silence-proves-nothing"), Reason.Of("check-what-they-share"), Reason.Of("ventilate-before-entering")));
    }

    private static NoticeWords Ended(NoticeSubject about)
    {
        var (view, transition) = about.Parts[0];
        var why = transition.EndedBecause ?? Reason.Of("alert-ended");
        var isHeard = why.Code == "sensor-heard-again";
        return new NoticeWords(
            Reason.Of(
                !isHeard ? "title-ended" : about.InThread == 1 ? "title-heard-again-one" : "title-heard-again",
                new ReasonValue.Name(view.Batch.Name),
                new ReasonValue.Count(about.InThread)),
            ValueList.Of(isHeard && about.InThread > 1
                ? Reason.Of("sensors-heard-again", new ReasonValue.Count(about.InThread))
                : why));
    }
}
