using FermentWatch.Monitoring.Alerting;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A notice in words.</summary>
/// <param name="Key">A newer notice with the same key replaces the older on the device.</param>
/// <param name="Title">At most 40 characters.</param>
/// <param name="Text">At most 240 characters.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="Silent">True when it must make no sound.</param>
/// <param name="Link">The batch's page, or null while no address is configured under which a phone can reach it.</param>
public sealed record NoticeMessage(string Key, string Title, string Text, Severity Severity, bool Silent, Uri? Link);
