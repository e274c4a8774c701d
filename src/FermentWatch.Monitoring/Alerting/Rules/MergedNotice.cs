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
}
