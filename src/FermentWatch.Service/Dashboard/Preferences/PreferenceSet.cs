using FermentWatch.Monitoring.Alerting;
using FermentWatch.Oenology.Limits;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>What a reader may choose on the page, as it counts now.</summary>
public sealed record PreferenceSet
{
    /// <summary>Units and decimal mark.</summary>
    public Units Units { get; init; } = Units.Usual;

    /// <summary>Language of pages and notices.</summary>
    public Language Language { get; init; } = Language.English;

    /// <summary>Zone in which times are shown and quiet hours are meant.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>Whose limits worksheets take until another one is chosen on the sheet.</summary>
    public Law Law { get; init; }

    /// <summary>How long raw messages are kept. [days]</summary>
    public int InboxDays { get; init; } = 14;

    /// <summary>How much room raw messages may take. [MB of 1,000,000 bytes]</summary>
    public int InboxMegabytes { get; init; } = 256;

    /// <summary>Address of the pages for links in notices; null leaves links out.</summary>
    public Uri? BaseUrl { get; init; }

    /// <summary>Begin of the quiet hours, wall clock of the zone.</summary>
    public TimeOnly QuietFrom { get; init; } = new(22, 0);

    /// <summary>Their end; equal to the begin for none.</summary>
    public TimeOnly QuietUntil { get; init; } = new(8, 0);

    /// <summary>The quiet hours, or null for none.</summary>
    public QuietHours? QuietHours => QuietFrom == QuietUntil ? null : new QuietHours(QuietFrom, QuietUntil);
}
