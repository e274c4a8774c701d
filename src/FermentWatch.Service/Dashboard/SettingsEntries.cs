namespace FermentWatch.Service.Dashboard;

/// <summary>A line of the page of settings: a sentence that leads to a page of its own.</summary>
/// <param name="Path">Path from the root of the pages.</param>
/// <param name="Name">Key of its name in <c>Texts/Page.resx</c>.</param>
/// <param name="About">Key of the sentence under it.</param>
public sealed record SettingsEntry(string Path, string Name, string About);

/// <summary>What the page of settings leads to, in its order.</summary>
public static class SettingsEntries
{
    /// <summary>The explicit list: a page that is missing here is not reached.</summary>
    public static IReadOnlyList<SettingsEntry> All { get; } =
    [
        new("preferences", "settings-preferences-name", "settings-preferences"),
        new("connect", "settings-connect-name", "settings-connect"),
        new("sensors", "settings-sensors-name", "settings-sensors"),
        new("listening", "settings-listening-name", "settings-listening"),
        new("broker", "settings-broker-name", "settings-broker"),
        new("devices", "settings-devices-name", "settings-devices"),
        new("messages", "nav-messages", "settings-messages"),
        new("channels", "settings-channels-name", "settings-channels"),
        new("account/notices", "settings-wishes-name", "settings-wishes"),
        new("away", "settings-away-name", "settings-away"),
        new("alert-health", "settings-health-name", "settings-health"),
        new("import", "settings-import-name", "settings-import"),
        new("export.zip", "settings-export-name", "settings-export"),
        new("api", "settings-api-name", "settings-api"),
        new("care", "settings-care-name", "settings-care"),
        new("people", "settings-people-name", "settings-people"),
        new("account", "settings-account-name", "settings-account"),
    ];
}
