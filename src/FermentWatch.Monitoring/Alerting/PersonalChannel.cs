using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A channel through which one listener hears, with what that listener wants to hear, and when.</summary>
/// <param name="Name">Name of the channel, as outbox rows carry it.</param>
/// <param name="QuietHours">The listener's own night, in which what can wait is held back; null for none.</param>
public sealed record PersonalChannel(string Name, QuietHours? QuietHours)
{
    /// <summary>Ids of the rules that the listener does not want to hear of.</summary>
    public ValueList<string> WithoutRules { get; init; } = ValueList.Of<string>();

    /// <summary>The batches of which the listener wants to hear; null for all, those to come included.</summary>
    public ValueList<BatchId>? OnlyBatches { get; init; }

    /// <summary>The listener's own zone, for night, days and digest; null for the house's.</summary>
    public TimeZoneInfo? Zone { get; init; }

    /// <summary>Notices a day that this listener bears, as <see cref="NoticeLimits.ADay"/>; null for the house's.</summary>
    public int? ADay { get; init; }

    /// <summary>The present by this listener's clock.</summary>
    internal Pass Of(Pass pass) => Zone is { } own ? pass with { Zone = own } : pass;

    /// <summary>Whether an alert is for this listener.</summary>
    public bool Wants(string rule, BatchId batch) => !WithoutRules.Contains(rule) && (OnlyBatches is not { } only || only.Contains(batch));

    /// <summary>When a notice may leave through this channel. Urgent ones go at once, and an all-clear makes no sound, so neither is held back.</summary>
    /// <param name="kind">What the notice tells.</param>
    /// <param name="severity">How much it asks.</param>
    /// <param name="settings">The group wait.</param>
    /// <param name="pass">The present.</param>
    internal ReceivedAt Due(TransitionKind kind, Severity severity, AlertSettings settings, Pass pass)
    {
        var soon = pass.Now + settings.GroupWait;
        // A clock that may be hours wrong does not know when night is: rather speak.
        var end = pass.ClockTrusted ? QuietHours?.EndOf(pass.Now, Of(pass).Zone) : null;
        return end is { } morning && morning > soon && severity is not Severity.Urgent && kind is not TransitionKind.Cleared ? morning : soon;
    }
}
