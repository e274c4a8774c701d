using System.CommandLine;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Demo;
using FermentWatch.Service.Pipeline;
using FermentWatch.Simulation.Demo;

namespace FermentWatch.Service.Commands;

/// <summary>Runs the service over an invented cellar.</summary>
internal static class DemoCommand
{
    private const double LowestSpeed = 1;
    private const double HighestSpeed = 100_000;

    public static Command Build()
    {
        var options = new ServiceOptions();
        var speed = new Option<double>("--speed")
        {
            Description = "Demo seconds in a real second once the history is in, 1 to 100,000. Default 600: ten minutes a second.",
            HelpName = "TIMES",
            DefaultValueFactory = _ => 600,
        };
        speed.Validators.Add(given =>
        {
            var text = given.Tokens.Count > 0 ? given.Tokens[0].Value : "600";
            if (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || value is not (>= LowestSpeed and <= HighestSpeed))
            {
                given.AddError($"--speed {text}: must be a number from 1 to 100,000.");
            }
        });
        var command = new Command("demo", "Run the service over an invented cellar of four carboys: a history first, then live. Its data lives in a directory of its own.");
        options.AddTo(command);
        command.Options.Add(speed);
        command.SetAction((parsed, stop) => RunAsync(parsed, options, parsed.GetValue(speed), stop));
        return command;
    }

    private static async Task<int> RunAsync(ParseResult parsed, ServiceOptions options, double speed, CancellationToken stop)
    {
        var environment = ServiceOptions.EnvironmentVariables();
        var directory = parsed.GetValue(options.Data) is { } asked ? Path.GetFullPath(asked) : DataDirectory.Resolve(null, environment) + "-demo";
        if (options.Read(parsed, directory, environment) is not { } given)
        {
            return SettingsResult.ExitCode;
        }

        if (given.Broker.Mode == BrokerMode.External)
        {
            await Console.Error.WriteLineAsync("The demo publishes to the embedded broker only, so that invented readings never reach a real one. Leave Broker:Mode at embedded.");
            return SettingsResult.ExitCode;
        }

        if (DemoDirectory.Renew(directory) is { } problem)
        {
            await Console.Error.WriteLineAsync(problem);
            return 1;
        }

        var now = TimeProvider.System.GetUtcNow();
        var settings = DemoSetup.Apply(OnFreePorts(parsed, options, given), now);
        var clock = new DemoClock(DemoCellar.Vessels.Min(vessel => DemoSetup.InoculatedAt(vessel, now)));
        return await RunCommand.RunAsync(settings, new ServiceIdentity(IsDemo: true, speed), clock, (app, ending) => PublishAsync(app, settings, clock, now, speed, ending), stop);
    }

    private static async Task PublishAsync(WebApplication app, ServiceSettings settings, DemoClock clock, DateTimeOffset now, double speed, CancellationToken ending)
    {
        var services = app.Services;
        var log = services.GetRequiredService<ILoggerFactory>().CreateLogger("FermentWatch.Demo");
        var broker = new IPEndPoint(settings.Broker.Embedded.Address, settings.Broker.Embedded.Port);
        var publisher = new DemoPublisher(broker, clock, now, speed, services.GetRequiredService<Store>(), services.GetRequiredService<PipelineSignals>(), log);
        try
        {
            await publisher.RunAsync(ending);
        }
        catch (OperationCanceledException) when (ending.IsCancellationRequested)
        {
        }
#pragma warning disable CA1031 // The demo's own edge: a failed publisher is told, and the page stays.
        catch (Exception exception)
#pragma warning restore CA1031
        {
            log.LogError(exception, "The demo's publisher stopped");
        }
    }

    /// <summary>A newcomer may have a broker on the usual port: the demo then takes another one, unless one was asked for.</summary>
    private static ServiceSettings OnFreePorts(ParseResult parsed, ServiceOptions options, ServiceSettings settings)
    {
        if (parsed.GetValue(options.BrokerPort) is null && !IsFree(settings.Broker.Embedded.Address, settings.Broker.Embedded.Port))
        {
            settings = settings with { Broker = settings.Broker with { Embedded = settings.Broker.Embedded with { Port = AnyFree(settings.Broker.Embedded.Address) } } };
            Console.Out.WriteLine($"The usual broker port is taken; the demo's broker listens on {settings.Broker.Embedded.Port.ToString(CultureInfo.InvariantCulture)}.");
        }

        return settings;
    }

    private static bool IsFree(IPAddress address, int port)
    {
        try
        {
            using var listener = new TcpListener(address, port);
            listener.Start();
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static int AnyFree(IPAddress address)
    {
        using var listener = new TcpListener(address, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
