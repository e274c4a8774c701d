using System.CommandLine;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Care;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Writes the diagnostics ZIP when the pages cannot be reached. The service may run.</summary>
internal static class DiagnosticsCommand
{
    /// <summary>The exit code when it cannot be written.</summary>
    public const int Refused = 2;

    public static Command Build()
    {
        var options = new ServiceOptions();
        var to = new Option<string>("--to") { Description = "The ZIP to write; must not be there yet.", HelpName = "FILE", DefaultValueFactory = _ => "fermentwatch-diagnostics.zip" };
        var command = new Command("diagnostics", "Write a ZIP for whoever helps: version, settings without secrets, counts. No reading, message or password is in it.") { to, options.Data, options.Set };
        command.SetAction(parsed =>
        {
            var environment = ServiceOptions.EnvironmentVariables();
            var directory = DataDirectory.Resolve(parsed.GetValue(options.Data), environment);
            return options.Read(parsed, directory, environment) is { } settings ? Write(settings, Path.GetFullPath(parsed.GetValue(to)!)) : SettingsResult.ExitCode;
        });
        return command;
    }

    private static int Write(ServiceSettings settings, string path)
    {
        try
        {
            using (var file = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite))
            {
                Diagnostics.Write(settings, null, [], DateTimeOffset.UtcNow, file);
            }

            Console.Out.WriteLine($"{path}: look it over before you hand it on.");
            return 0;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or DataDirectoryException)
        {
            Console.Error.WriteLine(failure.Message);
            return Refused;
        }
    }
}
