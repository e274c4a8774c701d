using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>The one notice of a temperature out of its band and of a ferment that rests, probably because of it.</summary>
internal static class MergedNotice
{
    /// <summary>The notice, or null where the temperature stands alone.</summary>
    /// <param name="about">The temperature's transition; the second value of its evidence is the temperature.</param>
    public static NoticeWords? Of(NoticeSubject about)
    {
        if (about.IsOver || about.Parts[0].Transition.Also is not { } stuck)
        {
            return null;
        }

        var isHot = about.Because.Code == "temperature-above-band";
        var celsius = about.Because.Values[1];
        return new NoticeWords(
            Reason.Of("title-stuck-by-temperature", about.Batch, celsius),
            ValueList.Of(
                Reason.Of(isHot ? "stuck-in-the-heat" : "stuck-in-the-cold", celsius, stuck.Values[0], stuck.Values[1]),
                Reason.Of("ventilate-first"),
                Reason.Of(isHot ? "stuck-cool" : "stuck-warm")));
    }

    /// <summary>The notice of a dangerous temperature that has stopped the ferment as well. What the danger asks for comes first.</summary>
    /// <param name="about">The danger's transition.</param>
    /// <param name="title">Title of the danger; where the danger was told before, the standstill is the news.</param>
    /// <param name="stuck">Evidence of the standstill: its gravity and the odds.</param>
    /// <param name="isHot">Whether it is the heat.</param>
    public static NoticeWords OfDanger(NoticeSubject about, Reason title, Reason stuck, bool isHot)
    {
        var (celsius, limit) = (about.Because.Values[1], about.Because.Values[2]);
        return new NoticeWords(
            about is { Kind: TransitionKind.Repeated } && about.Parts[0].Transition.IsAlsoNews ? Reason.Of("title-stuck-by-temperature", about.Batch, celsius) : title,
            ValueList.Of(
                Reason.Of(isHot ? "stuck-in-deadly-heat" : "stuck-in-frost", celsius, limit, stuck.Values[0], stuck.Values[1]),
                Reason.Of("ventilate-first"),
                Reason.Of(isHot ? "cool-then-restart" : "thaw-then-restart")));
    }
}
