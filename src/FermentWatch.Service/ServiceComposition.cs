using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Calendar;
using FermentWatch.Service.Care;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Help;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service;

/// <summary>Puts the service together. The one place that knows every part.</summary>
public static class ServiceComposition
{
    /// <summary>Builds the host: pages and loops over an open store. Nothing runs yet.</summary>
    /// <param name="settings">Checked settings.</param>
    /// <param name="store">The open store; the host closes it when it stops.</param>
    /// <param name="identity">Whether this is the demo.</param>
    /// <param name="clock">The service's clock.</param>
    public static WebApplication Build(ServiceSettings settings, Store store, ServiceIdentity identity, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(settings);
        // No configuration of the host's own: every setting is in the catalogue, and none is read twice.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = typeof(ServiceComposition).Assembly.GetName().Name });
        builder.WebHost.UseKestrelCore().UseUrls(settings.Page.Address.ToString());
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        builder.Services.AddRoutingCore();
        ConfigureLog(builder.Logging, settings.LogAsJson);
        var recent = new RecentLog();
        builder.Logging.AddProvider(recent);
        builder.Services.AddSingleton(recent);
        var services = builder.Services;
        services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(5));
        services.AddSingleton(clock);
        // A factory, so that the container disposes the store after everything that uses it.
        services.AddSingleton(_ => store);
        services.AddSingleton(identity);
        services.AddSingleton(settings.Page);
        services.AddSingleton(_ => new PreferenceBook(PreferencesOf(settings), store.ReadProperties(PreferenceCatalog.Prefix), store.WritePropertiesAsync));
        services.AddSingleton(settings.Broker);
        services.AddSingleton(settings.Topics);
        services.AddSingleton(AlertSettingsOf(settings));
        services.AddSingleton(identity.IsDemo ? MonitorPace.Demo : MonitorPace.Usual);
        services.AddSingleton<LimitBook>();
        services.AddSingleton<PriorBook>();
        services.AddSingleton<Dashboard.Said.SaidBook>();
        services.AddSingleton<PipelineSignals>();
        services.AddSingleton<Photos.PhotoReader>();
        services.AddSingleton<MappingBook>();
        services.AddSingleton(provider => new MessageReading(() => provider.GetRequiredService<MappingBook>().Active));
        services.AddSingleton<ListeningScope>();
        services.AddSingleton<Listening>();
        services.AddSingleton(new ConfiguredBatches(settings.Batches.Select(batch => batch.Id).ToHashSet()));
        services.AddSingleton<BrokerChoice>();
        services.AddSingleton<BrokerLink>();
        services.AddSingleton<ServiceStanding>();
        services.AddSingleton<BoardFiller>();
        services.AddSingleton<HelpBook>();
        services.AddSingleton<ChannelCare>();
        services.AddSingleton<Dashboard.Acts.ActLinks>();
        services.AddSingleton<NoticeDesk>();
        services.AddSingleton<OutboxDelivery>();
        services.AddSingleton<OwnPorts>();
        // The ports are asked for at each connection: the broker may change, and the page's may be the system's choice.
        services.AddSingleton(provider => new OutgoingRules
        {
            Networks = settings.Outgoing.Networks,
            ThisMachine = settings.Outgoing.ThisMachine,
            OwnPorts = () => provider.GetRequiredService<OwnPorts>().Now,
        });
        if (settings.Relay is { } relay)
        {
            services.AddSingleton<INotifier>(provider => new RelayNotifier(RelayOf(relay), provider.GetRequiredService<OutgoingRules>(), TimeProvider.System));
        }

        services.AddAccess(identity.IsDemo ? TimeProvider.System : clock);
        if (settings.Mail is { } mail)
        {
            services.AddSingleton<INotifier>(_ => new MailNotifier(mail, TimeProvider.System));
        }

        if (settings.BrokerNotices)
        {
            services.AddSingleton<INotifier>(provider => new MqttNotifier(() => provider.GetRequiredService<BrokerLink>().ForNotices, TimeProvider.System));
        }

        services.AddPersonal(provider => new ChannelHouse(settings.Mail, settings.Relay, provider.GetRequiredService<OutgoingRules>(), TimeProvider.System)
        {
            Push = new Lazy<PushIdentity>(() => PushKeys.Read(store, provider.GetRequiredService<IDataProtectionProvider>())),
            PushSubject = settings.Page.BaseUrl is { Scheme: "https" } home ? home.AbsoluteUri : null,
        });
        services.AddCalendars();
        services.AddInOut(settings.DataDirectory);
        // The demo's data is made anew at each start, and its clock is not that of its files.
        services.AddCare(identity.IsDemo ? settings with { Backup = settings.Backup with { Every = TimeSpan.Zero } } : settings);
        services.AddDashboard(DashboardOf(settings, identity));
        if (settings.Influx is { } influx)
        {
            services.AddSingleton(_ => new InfluxTarget(influx, TimeProvider.System));
            services.AddSingleton(provider => new InfluxCopier(store, provider.GetRequiredService<InfluxTarget>(), SettingWords.QuantityWord, clock));
            services.AddHostedService<CopyLoop>();
        }
        else
        {
            services.AddHostedService<NoCopy>();
        }

        if (settings.States is { } states)
        {
            services.AddSingleton(states);
            services.AddHostedService<StateLoop>();
        }

        // Stopped in reverse: the broker first, so that what is acknowledged still flows through.
        services.AddHostedService<HousekeepingLoop>();
        services.AddHostedService<DeliveryLoop>();
        services.AddHostedService<MonthlyTestLoop>();
        services.AddSingleton(new Heartbeat(settings.Alerts.Heartbeat));
        services.AddHostedService<HeartbeatLoop>();
        services.AddHostedService<MonitorLoop>();
        if (!identity.IsDemo)
        {
            services.AddHostedService(provider => ActivatorUtilities.CreateInstance<ServiceWatchLoop>(provider, new WatchedDirectory(settings.DataDirectory)));
        }

        services.AddHostedService<IngestLoop>();
        services.AddHostedService(provider => provider.GetRequiredService<BrokerLink>());
        var app = builder.Build();
        app.UseProxies(settings.Page);
        app.MapDashboard(AccessHosting.UseAccess);
        app.MapAccess();
        app.MapCare();
        WishForms.Map(app);
        app.MapCalendars();
        PushWorker.Map(app);
        return app;
    }

    private static void ConfigureLog(ILoggingBuilder log, bool asJson)
    {
        if (asJson)
        {
            log.AddJsonConsole(console =>
            {
                console.UseUtcTimestamp = true;
                console.TimestampFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";
            });
        }
        else
        {
            log.AddSimpleConsole(console =>
            {
                console.SingleLine = true;
                console.UseUtcTimestamp = true;
                console.TimestampFormat = "yyyy-MM-dd'T'HH:mm:ss'Z' ";
            });
        }

        log.SetMinimumLevel(LogLevel.Information);
        log.AddFilter("Microsoft", LogLevel.Warning);
        // It warns on every page with a form that it forbids caching, which the pages do themselves.
        log.AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Error);
        // Its keys lie in the data directory, which only its owner can read: there is no other key to encrypt them with.
        log.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
    }

    private static AlertSettings AlertSettingsOf(ServiceSettings settings)
    {
        var figures = settings.Alerts;
        return AlertSettings.Default with
        {
            QuietHours = figures.QuietFrom == figures.QuietUntil ? null : new QuietHours(figures.QuietFrom, figures.QuietUntil),
            GroupWait = figures.GroupWait,
            SensorSilent = AlertSettings.Default.SensorSilent with
            {
                TemperatureIntervals = figures.TemperatureIntervals,
                TemperatureAtLeast = figures.TemperatureAtLeast,
                GravityIntervals = figures.GravityIntervals,
                GravityAtLeast = figures.GravityAtLeast,
            },
            Channels = ValueList.Of(((string?[])[settings.Relay is { } relay ? RelayOf(relay).Channel : null, settings.Mail?.Channel, settings.BrokerNotices ? MqttNotifier.Name : null]).OfType<string>()),
        };
    }

    private static PreferenceSet PreferencesOf(ServiceSettings settings) => new()
    {
        Zone = settings.Page.Zone,
        BaseUrl = settings.Page.BaseUrl,
        InboxDays = settings.Retention.InboxDays,
        InboxMegabytes = settings.Retention.InboxMegabytes,
        QuietFrom = settings.Alerts.QuietFrom,
        QuietUntil = settings.Alerts.QuietUntil,
    };

    private static RelaySettings RelayOf(RelayChannel relay)
    {
        var plain = new RelaySettings { Url = relay.Url, BearerToken = relay.Token };
        return plain with { Body = relay.Template ?? plain.Body, Priorities = relay.Priorities ?? plain.Priorities };
    }

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;

    private static DashboardOptions DashboardOf(ServiceSettings settings, ServiceIdentity identity) => new()
    {
        PathBase = settings.Page.PathBase,
        Zone = settings.Page.Zone,
        CellarName = settings.Page.CellarName,
        BrokerHost = settings.Broker.External?.Host ?? settings.Broker.Embedded.Address.ToString(),
        BrokerPort = settings.Broker.External?.Port ?? settings.Broker.Embedded.Port,
        KeyDirectory = Path.Combine(settings.DataDirectory, "keys"),
        StaleAfter = Longer(TimeSpan.FromMinutes(10), TimeSpan.FromSeconds(30) * identity.Speed),
        ConfigurationFile = settings.ConfigurationFile ?? Path.Combine(settings.DataDirectory, SettingsLoader.FileName),
    };
}
