using System.CommandLine;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Pipeline;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.Service.Commands;

/// <summary>Runs the service until it is told to stop.</summary>
internal static class RunCommand
{
    public static void AddTo(RootCommand root, ServiceOptions options) => root.SetAction(async (parsed, stop) =>
    {
        var environment = ServiceOptions.EnvironmentVariables();
        var directory = DataDirectory.Resolve(parsed.GetValue(options.Data), environment);
        return options.Read(parsed, directory, environment) is { } settings
            ? await RunAsync(settings, new ServiceIdentity(IsDemo: false), TimeProvider.System, null, stop)
            : SettingsResult.ExitCode;
    });

    /// <summary>Opens the store, starts the host, waits. Says in one sentence why it cannot.</summary>
    /// <param name="settings">Checked settings.</param>
    /// <param name="identity">Whether this is the demo.</param>
    /// <param name="clock">The service's clock.</param>
    /// <param name="beside">Runs beside the started service, such as the demo's publisher; null for none.</param>
    /// <param name="stop">Ends it.</param>
    public static async Task<int> RunAsync(
        ServiceSettings settings, ServiceIdentity identity, TimeProvider clock, Func<WebApplication, CancellationToken, Task>? beside, CancellationToken stop)
    {
        try
        {
            return await ServeAsync(settings, identity, clock, beside, stop);
        }
        catch (Exception exception) when (exception is DataDirectoryException or BrokerStartException or StorageUnavailableException)
        {
            return await FailAsync(exception.Message);
        }
        catch (IOException exception) when (exception.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            return await FailAsync(
                $"The page cannot listen on {settings.Page.Address}: another program uses that port. Stop it, or choose a free one with --page http://127.0.0.1:PORT.");
        }
    }

    private static async Task<int> ServeAsync(
        ServiceSettings settings, ServiceIdentity identity, TimeProvider clock, Func<WebApplication, CancellationToken, Task>? beside, CancellationToken stop)
    {
        var options = new StoreOptions(settings.DataDirectory)
        {
            InboxRetention = TimeSpan.FromDays(settings.Retention.InboxDays),
            InboxMaximumBytes = settings.Retention.InboxMegabytes * 1_000_000L,
        };
        await using var store = Store.Open(options, clock, NullLogger<Store>.Instance);
        if (ListeningRule.Refusal(settings, store) is { } refusal)
        {
            await Console.Error.WriteLineAsync(refusal);
            return SettingsResult.ExitCode;
        }

        await using var app = ServiceComposition.Build(settings, store, identity, clock);
        var log = app.Services.GetRequiredService<ILoggerFactory>().CreateLogger("FermentWatch");
        await store.ReplaceBatchesAsync(settings.Batches, stop);
        await app.StartAsync(stop);
        log.LogInformation("The page is at {Address}, the data in {Directory}", app.Urls.First() + settings.Page.PathBase, settings.DataDirectory);
        TellSetUpCode(app);
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop, app.Lifetime.ApplicationStopping);
        var company = beside?.Invoke(app, ending.Token) ?? Task.CompletedTask;
        await app.WaitForShutdownAsync(stop);
        await ending.CancelAsync();
        await company.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        return 0;
    }

    /// <summary>To the console and not to the log, which may be kept and sent elsewhere.</summary>
    private static void TellSetUpCode(WebApplication app)
    {
        if (!app.Services.GetRequiredService<AccessBook>().IsLocked)
        {
            Console.Out.WriteLine($"Nobody has a password yet. To set one, open /setup on this machine within 30 minutes; the set-up code is {app.Services.GetRequiredService<SetUpCode>().Text}");
        }
    }

    private static async Task<int> FailAsync(string message)
    {
        await Console.Error.WriteLineAsync(message);
        return 1;
    }
}
