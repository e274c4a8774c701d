using System.CommandLine;
using System.Globalization;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Copies the history from a day on to the server of the settings. The service may run.</summary>
internal static class CopyCommand
{
    /// <summary>The exit code when something given is wrong.</summary>
    public const int Refused = 2;

    public static Command Build()
    {
        var options = new ServiceOptions();
        var from = new Option<string>("--from") { Description = "First day or moment, in UTC where no zone is given.", HelpName = "DATE", Required = true };
        var command = new Command("copy", "Copy the history from a day on to the server of Influx:Url. The service may run; a repeat does no harm.") { from, options.Data, options.Set };
        command.SetAction(async (parsed, stop) =>
        {
            if (Moment(parsed.GetValue(from)!) is not { } moment)
            {
                await Console.Error.WriteLineAsync($"--from {parsed.GetValue(from)}: give a date such as 2026-11-01, or a moment such as 2026-11-01T08:00:00Z.");
                return Refused;
            }

            var environment = ServiceOptions.EnvironmentVariables();
            var directory = DataDirectory.Resolve(parsed.GetValue(options.Data), environment);
            return options.Read(parsed, directory, environment) is { } settings ? await RunAsync(settings, moment, stop) : SettingsResult.ExitCode;
        });
        return command;
    }

    private static async Task<int> RunAsync(ServiceSettings settings, EventTime from, CancellationToken stop)
    {
        if (settings.Influx is not { } influx)
        {
            await Console.Error.WriteLineAsync("Influx:Url is not given, so there is nowhere to copy to. 'fermentwatch settings' tells what it may be.");
            return Refused;
        }

        try
        {
            using var history = ChangeHistory.Open(new StoreOptions(settings.DataDirectory), from);
            using var target = new InfluxTarget(influx, TimeProvider.System);
            var report = await HistoryCopy.RunAsync(history, target, SettingWords.QuantityWord, TimeProvider.System, stop);
            foreach (var line in report.SetAside)
            {
                await Console.Error.WriteLineAsync("Left out: " + line);
            }

            var seconds = report.Took.TotalSeconds;
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{report.Points} points from {from} on in {seconds:0.0} s ({report.Points / Math.Max(seconds, 0.001):0} a second) to {influx.Url.Host}."));
            if (report.Problem is null)
            {
                return 0;
            }

            await Console.Error.WriteLineAsync($"It ended early: {report.Problem}. Run it again; what is there already does no harm.");
            return 1;
        }
        catch (Exception failure) when (failure is DataDirectoryException or StorageUnavailableException)
        {
            await Console.Error.WriteLineAsync(failure.Message);
            return Refused;
        }
    }

    private static EventTime? Moment(string text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? EventTime.From(new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero))
            : IsoTime.Read(text, out _);
}
