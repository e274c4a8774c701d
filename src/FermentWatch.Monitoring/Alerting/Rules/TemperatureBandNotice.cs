using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Notices of <c>temperature-band</c>.</summary>
internal static class TemperatureBandNotice
{
    public static NoticeWords Words(NoticeSubject about)
    {
        var (view, transition) = about.Parts[0];
        var batch = new ReasonValue.Name(view.Batch.Name);
        return MergedNotice.Of(about) ?? about.Kind switch
        {
            TransitionKind.Cleared => Cleared(batch, transition),
            TransitionKind.Withdrawn => Withdrawn(batch, transition),
            _ => Raised(about.Kind, batch, transition),
        };
    }

    private static NoticeWords Raised(TransitionKind kind, ReasonValue batch, AlertTransition transition)
    {
        var because = transition.Episode?.Because ?? transition.Alert.Because;
        var title = Reason.Of(
            kind is TransitionKind.Repeated ? "title-temperature-still" : "title-temperature", batch, because.Values[1], because.Values[2]);
        var remedy = because.Code == "temperature-above-band" ? "cool-gently" : "warm-gently";
        var sure = transition.Episode?.Placement switch
        {
            Placement.InsulatedOnGlass => "measured-insulated",
            Placement.BareGlass => "measured-bare-glass",
            _ => "measured-in-liquid",
        };
        return new NoticeWords(title, ValueList.Of(because, Reason.Of(sure), Reason.Of("ventilate-first"), Reason.Of(remedy)));
    }

    private static NoticeWords Cleared(ReasonValue batch, AlertTransition transition)
    {
        var because = transition.Episode?.ClearedBecause ?? Reason.Of("alert-ended");
        var title = because.Code == "temperature-back-in-band"
            ? Reason.Of("title-temperature-cleared", batch, because.Values[1])
            : Reason.Of("title-ended", batch);
        return new NoticeWords(title, ValueList.Of(because));
    }

    private static NoticeWords Withdrawn(ReasonValue batch, AlertTransition transition)
    {
        var told = transition.Alert.Because;
        return new NoticeWords(
            Reason.Of("title-temperature-withdrawn", batch, told.Values[1]),
            ValueList.Of(
                Reason.Of("temperature-withdrawn", told.Values[0], told.Values[2], told.Values[3]),
                Reason.Of("undo-remedy"),
                Reason.Of("ventilate-first")));
    }
}
