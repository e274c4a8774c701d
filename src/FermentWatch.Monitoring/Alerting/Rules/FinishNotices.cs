using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>Notices about the end of a ferment.</summary>
internal static class FinishNotices
{
    private const int Days = 7;
    private const int MeadDays = 14;
    private const double ColdCelsius = 16;

    public static NoticeWords Stuck(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("undo-remedy"));
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-stuck", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of(because.Code == "stuck-hot" ? "stuck-cool" : "stuck-warm")));
    }

    public static NoticeWords Ready(NoticeSubject about)
    {
        var view = about.Parts[0].View;
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("ready-do-nothing"));
        }

        var because = about.Because;
        var isSlow = view.Batch.Kind is FermentKind.Mead || view.LatestTemperature is { } latest && latest.Value.Celsius < ColdCelsius;
        return new NoticeWords(
            Reason.Of("title-ready", about.Batch),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("ready-measure", new ReasonValue.Count(isSlow ? MeadDays : Days))));
    }

    public static NoticeWords Withdrawn(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("ready-do-nothing"));
        }

        return new NoticeWords(
            Reason.Of("title-ready-withdrawn", about.Batch),
            ValueList.Of(about.Because, Reason.Of("ready-do-nothing"), Reason.Of("ventilate-before-entering")));
    }
}
