namespace FermentWatch.Infrastructure.Storage;

/// <summary>A table that a full export carries row by row.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Order">Columns by which rows are ordered.</param>
/// <param name="Only">Condition on its rows; null for all.</param>
internal sealed record WholeTable(string Name, string Order, string? Only = null);

/// <summary>What a full export carries, and what it leaves out. A test holds that every table is one or the other.</summary>
internal static class WholeTables
{
    /// <summary>Carried, in an order in which no row comes before what it refers to.</summary>
    public static IReadOnlyList<WholeTable> Carried { get; } =
    [
        new("batch", "id"),
        new("batch_state", "batch"),
        new("attachment", "batch, sensor, from_time"),
        new("attached_on_page", "batch"),
        new("work", "id"),
        new("photo", "id"),
        new("journal", "id"),
        new("series", "id"),
        new("reading", "series, t, n"),
        new("clock_fix", "series, n"),
        new("calibration", "id"),
        new("mapping", "id"),
        new("unit_change", "sensor, quantity"),
        new("ignored_topic", "topic"),
        new("forecast", "batch, as_of, engine_version, prior, made_at"),
        new("alert", "batch"),
        new("trial", "id"),
        new("property", "name", "substr(name, 1, 11) = 'preference-' OR substr(name, 1, 7) = 'limits-' OR substr(name, 1, 6) IN ('bench-', 'prior-')"),
    ];

    /// <summary>Left out, with the word that the export says about it; null for what is made anew or means nothing elsewhere.</summary>
    public static IReadOnlyDictionary<string, string?> LeftOut { get; } = new Dictionary<string, string?>
    {
        ["person"] = "people",
        ["sign_in"] = "people",
        ["device"] = "devices",
        ["trial_guest"] = null,
        ["trial_seat"] = null,
        ["property"] = "channels",
        ["inbox"] = "messages",
        ["topic"] = "messages",
        ["outbox"] = "notices",
        ["rollup"] = null,
        ["session"] = null,
        ["in_flight"] = null,
        ["tally"] = null,
        ["cursor"] = null,
        ["change"] = null,
        ["follower"] = null,
    };
}
