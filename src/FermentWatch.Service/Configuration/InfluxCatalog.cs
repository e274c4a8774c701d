namespace FermentWatch.Service.Configuration;

/// <summary>A copy of the series in a server that takes writes as InfluxDB does.</summary>
internal static class InfluxCatalog
{
    public static Setting<Uri?> Url { get; } = new()
    {
        Key = "Influx:Url",
        Meaning = "Address of a server that takes writes as InfluxDB 2 does; readings, forecasts, phases, gates and alerts are copied there. The database here stays the one that counts.",
        DefaultText = "none: nothing is copied",
        Allowed = "an http:// or https:// address without user name and fragment",
        Example = "http://127.0.0.1:8086",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.WebAddress),
    };

    public static Setting<string> Org { get; } = new()
    {
        Key = "Influx:Org",
        Meaning = "Organization at that server; one without organizations passes it over.",
        DefaultText = "fermentwatch",
        Allowed = "1 to 200 characters on one line",
        Example = "home",
        Default = () => "fermentwatch",
        Read = SettingReaders.Text(1, 200),
    };

    public static Setting<string> Bucket { get; } = new()
    {
        Key = "Influx:Bucket",
        Meaning = "Bucket (where the server has databases: database) into which is written. It must be there.",
        DefaultText = "fermentwatch",
        Allowed = "1 to 200 characters on one line",
        Example = "cellar",
        Default = () => "fermentwatch",
        Read = SettingReaders.Text(1, 200),
    };

    public static Setting<string> Site { get; } = new()
    {
        Key = "Influx:Site",
        Meaning = "Tag 'site' of everything that is copied. Services that share a bucket need one each.",
        DefaultText = "home",
        Allowed = "1 to 40 letters, digits, hyphens and underscores",
        Example = "north-barn",
        Default = () => "home",
        Read = SettingReaders.Word(1, 40),
    };

    public static Setting<string?> Token { get; } = new()
    {
        Key = "Influx:Token",
        Meaning = "Token that may write to the bucket. Better in Influx:TokenFile or the environment than here.",
        DefaultText = "none",
        Allowed = "1 to 1000 printable ASCII characters without spaces",
        Example = "a-token-of-your-own",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Token),
    };

    public static Setting<string?> TokenFile { get; } = new()
    {
        Key = "Influx:TokenFile",
        Meaning = "File whose first line is the token; a relative path begins at the data directory.",
        DefaultText = "none",
        Allowed = "the path of a file that can be read",
        Example = "/etc/fermentwatch/influx-token",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };
}
