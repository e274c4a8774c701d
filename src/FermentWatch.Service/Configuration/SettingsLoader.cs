using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Care;

namespace FermentWatch.Service.Configuration;

/// <summary>What came of reading the settings.</summary>
/// <param name="Settings">The settings; null when there is any error.</param>
/// <param name="Errors">Everything that is wrong, each naming key, value and what would be right; never a secret.</param>
/// <param name="Warnings">What is allowed but probably not meant, or costs protection.</param>
public sealed record SettingsResult(ServiceSettings? Settings, IReadOnlyList<string> Errors, IReadOnlyList<string> Warnings)
{
    /// <summary>The exit code for a start with errors.</summary>
    public const int ExitCode = 2;
}

/// <summary>Reads the settings from the configuration file, the environment and the command line; each wins over the one before.</summary>
public static class SettingsLoader
{
    /// <summary>Name of the configuration file in the data directory. It may be missing: nothing is needed to start.</summary>
    public const string FileName = "fermentwatch.json";

    /// <summary>Reads and checks everything, and collects all errors.</summary>
    /// <param name="dataDirectory">Directory of the data; need not exist.</param>
    /// <param name="environment">Environment variables; those that begin with <c>FERMENTWATCH__</c> are settings, with <c>__</c> between the names.</param>
    /// <param name="overrides">Settings of the command line by key, such as <c>Page:Address</c>.</param>
    public static SettingsResult Load(
        string dataDirectory,
        IReadOnlyDictionary<string, string?> environment,
        IReadOnlyDictionary<string, string?> overrides)
    {
        ArgumentNullException.ThrowIfNull(dataDirectory);
        ArgumentNullException.ThrowIfNull(environment);
        ArgumentNullException.ThrowIfNull(overrides);
        var errors = new List<string>();
        var warnings = new List<string>();
        var directory = Path.GetFullPath(dataDirectory);
        var file = Path.Combine(directory, FileName);
        var given = new List<GivenValue>();
        var fileThere = File.Exists(file) || Directory.Exists(file);
        if (fileThere)
        {
            var (text, problem) = TextFile.Read(file);
            if (text is null)
            {
                errors.Add(problem!);
            }
            else
            {
                given.AddRange(ConfigurationText.OfFile(text, FileName, errors));
            }
        }

        given.AddRange(ConfigurationText.OfEnvironment(environment));
        given.AddRange(ConfigurationText.OfCommandLine(overrides));
        var values = new SettingValues(given, errors);
        var settings = Read(values, directory, fileThere ? file : null, warnings);
        return new SettingsResult(errors.Count == 0 ? settings : null, errors, warnings);
    }

    private static ServiceSettings Read(SettingValues values, string directory, string? file, List<string> warnings)
    {
        var page = new PageSettings(
            values.Get(PageCatalog.PageAddress),
            values.Get(PageCatalog.PagePathBase),
            values.Get(PageCatalog.PageBaseUrl),
            values.Get(PageCatalog.PageZone),
            values.Get(PageCatalog.PageCellarName))
        {
            TrustedProxies = values.Get(PageCatalog.PageTrustedProxies),
        };
        var broker = BrokerReading.Read(values, directory, warnings);
        var topics = TopicReading.Read(values);
        ValueList<Batch> batches = BatchReading.Read(values, topics, warnings);
        var settings = new ServiceSettings(directory, file, page, broker, topics, batches, Relay(values, warnings), Alerts(values), Retention(values))
        {
            Outgoing = values.Get(OutgoingCatalog.Places),
            BrokerNotices = values.Get(BrokerCatalog.Notices),
            Mail = MailReading.Read(values, directory, warnings),
            Influx = InfluxReading.Read(values, directory, warnings),
            Backup = new BackupSettings(
                Path.GetFullPath(values.Get(CareCatalog.BackupFolder), directory),
                TimeSpan.FromHours(values.Get(CareCatalog.BackupHours)),
                Math.Max(1, values.Get(CareCatalog.BackupKeep))),
            MetricsToken = SecretReading.Of(values, CareCatalog.MetricsToken, CareCatalog.MetricsTokenFile, directory),
            States = values.Get(CareCatalog.StatesSite) is { } site ? new StateSettings(site) : null,
            LogAsJson = values.Get(CareCatalog.LogAsJson),
            Given = values.Told(),
        };
        // Those that stand in files of their own too.
        string?[] filed = [settings.Influx?.Token, settings.MetricsToken, settings.Mail?.Password, settings.Broker.External?.Password];
        return settings with { Secrets = [.. values.Secrets().Concat(filed.OfType<string>()).Distinct().OrderByDescending(secret => secret.Length)] };
    }

    private static RelayChannel? Relay(SettingValues values, List<string> warnings)
    {
        var url = values.Get(NoticeCatalog.RelayUrl);
        var token = values.Get(NoticeCatalog.RelayToken);
        var template = values.Get(NoticeCatalog.RelayTemplate);
        var priorities = values.Get(NoticeCatalog.RelayPriorities);
        Setting[] others = [NoticeCatalog.RelayToken, NoticeCatalog.RelayTemplate, NoticeCatalog.RelayPriorities];
        if (!values.Has(NoticeCatalog.RelayUrl) && others.FirstOrDefault(other => values.Has(other)) is { } given)
        {
            values.Refuse(NoticeCatalog.RelayUrl, $"{given.Key} is given, so it is needed.");
        }

        if (url is { IsLoopback: false } && url.Scheme == Uri.UriSchemeHttp)
        {
            warnings.Add("Relay:Url begins with http://: notices and the token go over the network in the clear.");
        }

        return url is null ? null : new RelayChannel(url, token, template, priorities);
    }

    private static AlertFigures Alerts(SettingValues values) => new(
        values.Get(NoticeCatalog.QuietFrom),
        values.Get(NoticeCatalog.QuietUntil),
        values.Get(NoticeCatalog.SilentTemperatureIntervals),
        TimeSpan.FromHours(values.Get(NoticeCatalog.SilentTemperatureHours)),
        values.Get(NoticeCatalog.SilentGravityIntervals),
        TimeSpan.FromHours(values.Get(NoticeCatalog.SilentGravityHours)))
    {
        GroupWait = TimeSpan.FromSeconds(values.Get(NoticeCatalog.GroupWaitSeconds)),
        Heartbeat = values.Get(NoticeCatalog.HeartbeatUrl) is { } watcher ? new WatcherAddress(watcher) : null,
    };

    private static RetentionSettings Retention(SettingValues values) =>
        new(values.Get(NoticeCatalog.InboxDays), values.Get(NoticeCatalog.InboxMegabytes));
}
