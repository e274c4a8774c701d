using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Preferences;

namespace FermentWatch.Service.Personal;

/// <summary>What one person wants to be told, as the store keeps it.</summary>
public sealed record NoticeWishes
{
    /// <summary>Begin of the person's night, wall clock of the person's zone.</summary>
    public TimeOnly QuietFrom { get; init; } = Monitoring.Alerting.QuietHours.Default.From;

    /// <summary>Its end; equal to the begin for none.</summary>
    public TimeOnly QuietUntil { get; init; } = Monitoring.Alerting.QuietHours.Default.Until;

    /// <summary>Most notices that the person may choose to have on a day.</summary>
    public const int MostADay = 20;

    /// <summary>Notices a day, 1 to <see cref="MostADay"/>; what comes after them waits for the daily digest, and urgent ones do not count.</summary>
    public int ADay { get; init; } = new NoticeLimits().ADay;

    /// <summary>Rules that the person does not want to hear of.</summary>
    public ValueList<string> WithoutRules { get; init; } = ValueList.Of<string>();

    /// <summary>Batches of which the person wants to hear; null for all.</summary>
    public ValueList<string>? OnlyBatches { get; init; }

    /// <summary>Units, decimal mark and zone in which the person wants notices, by the names of <see cref="PreferenceCatalog.Personal"/>; what is not in it is as in the house.</summary>
    public IReadOnlyDictionary<string, string> Own { get; init; } = new Dictionary<string, string>();

    /// <summary>The person's own zone; null for the house's.</summary>
    [JsonIgnore]
    public TimeZoneInfo? Zone => Own.TryGetValue("zone", out var name) && SettingReaders.Zone(name) is { Ok: true, Value: { } zone } ? zone : null;

    /// <summary>What each channel needs, by its kind: encrypted JSON.</summary>
    public IReadOnlyDictionary<string, string> Channels { get; init; } = new Dictionary<string, string>();

    /// <summary>How this person listens through a channel.</summary>
    public PersonalChannel Listener(string channel) => new(channel, QuietFrom == QuietUntil ? null : new QuietHours(QuietFrom, QuietUntil))
    {
        Zone = Zone,
        ADay = ADay,
        WithoutRules = WithoutRules,
        OnlyBatches = OnlyBatches is { } only ? ValueList.Of(only.Select(id => new BatchId(id))) : null,
    };
}
