using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A notice in words.</summary>
/// <param name="Key">A newer notice with the same key replaces the older on the device.</param>
/// <param name="Title">At most 40 characters.</param>
/// <param name="Text">At most 240 characters.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="Silent">True when it must make no sound.</param>
/// <param name="Link">The batch's page, or null while no address is configured under which a phone can reach it.</param>
public sealed record NoticeMessage(string Key, string Title, string Text, Severity Severity, bool Silent, Uri? Link)
{
    /// <summary>What the reader may say about it, without a sign-in; empty where nothing can be said, or without a link.</summary>
    public ValueList<NoticeAct> Acts { get; init; } = ValueList.Of<NoticeAct>();

    /// <summary>The language in which it is written, as its tag (BCP 47).</summary>
    public string Language { get; init; } = "en";

    /// <summary>The batch's curve; null where there is none.</summary>
    public NoticePicture? Picture { get; init; }
}

/// <summary>Something to say about a notice.</summary>
/// <param name="Word">Its name: lower-case words joined by hyphens.</param>
/// <param name="Label">What the button says.</param>
/// <param name="Link">A page that asks whether it is meant. Whoever has the link may say it, once: it is a secret of the notice's reader.</param>
public sealed record NoticeAct(string Word, string Label, Uri Link);

/// <summary>A picture of 480 x 240 pixels.</summary>
/// <param name="Png">The file, at most 30 kB.</param>
/// <param name="Description">What it shows, in words.</param>
public sealed record NoticePicture(ReadOnlyMemory<byte> Png, string Description);
