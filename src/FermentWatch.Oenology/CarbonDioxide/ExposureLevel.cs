namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>A level of carbon dioxide in air that people must not pass, or what happens there.</summary>
/// <param name="Code">Its name: lower case, words joined by hyphens.</param>
/// <param name="PartsPerMillion">The level. [ppm]</param>
/// <param name="Text">What it means.</param>
/// <param name="SourceKey">Its key in the bibliography.</param>
public sealed record ExposureLevel(string Code, double PartsPerMillion, string Text, string SourceKey)
{
    /// <summary>Limit at work for a day of eight hours.</summary>
    public static ExposureLevel WorkingDay { get; } = new("working-day", 5000, "above the limit for a working day of eight hours, 5000 ppm", "OSHA");

    /// <summary>Limit at work for a quarter of an hour; breath doubles and the head aches.</summary>
    public static ExposureLevel ShortTerm { get; } = new("short-term", 30000, "above the limit for fifteen minutes, 30000 ppm, where breath doubles and the head aches", "ACGIH");

    /// <summary>Immediately dangerous to life.</summary>
    public static ExposureLevel ImmediateDanger { get; } = new("immediate-danger", 40000, "above 40000 ppm, immediately dangerous to life: do not go in before the room is aired", "NIOSHIDLH");

    /// <summary>Unconsciousness or death.</summary>
    public static ExposureLevel Deadly { get; } = new("deadly", 100000, "above 100000 ppm, where people fall unconscious and die within minutes: do not go in before the room is aired", "NIOSHIDLH");

    /// <summary>Every level, lowest first.</summary>
    public static IReadOnlyList<ExposureLevel> All { get; } = [WorkingDay, ShortTerm, ImmediateDanger, Deadly];

    /// <summary>The highest level that is reached; null below all. Below all is no promise: levels are for healthy adults at work.</summary>
    public static ExposureLevel? Reached(double partsPerMillion) => All.LastOrDefault(level => partsPerMillion >= level.PartsPerMillion);
}
