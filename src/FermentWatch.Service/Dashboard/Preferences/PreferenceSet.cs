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

    /// <summary>The smallest step that the bench scale shows.</summary>
    public ScaleStep BenchScale { get; init; } = ScaleStep.Tenth;

    /// <summary>The smallest step that the kitchen scale shows, which weighs what is heavier than <see cref="BenchScaleGrams"/>.</summary>
    public ScaleStep KitchenScale { get; init; } = ScaleStep.Gram;

    /// <summary>Up to here an amount goes onto the bench scale. Common practice, no source. [g]</summary>
    public const double BenchScaleGrams = 200;

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

/// <summary>The smallest step of a scale's display, in milligrams.</summary>
public enum ScaleStep
{
    /// <summary>0.001 g.</summary>
    Thousandth = 1,

    /// <summary>0.01 g.</summary>
    Hundredth = 10,

    /// <summary>0.1 g.</summary>
    Tenth = 100,

    /// <summary>1 g.</summary>
    Gram = 1000,

    /// <summary>5 g.</summary>
    FiveGrams = 5000,

    /// <summary>50 g.</summary>
    FiftyGrams = 50000,
}
