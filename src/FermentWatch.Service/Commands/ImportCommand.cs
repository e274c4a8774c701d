using System.CommandLine;
using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.InOut;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.Service.Commands;

/// <summary>Takes a full export into an empty data directory.</summary>
internal static class ImportCommand
{
    public static Command Build()
    {
        var file = new Argument<string>("FILE") { Description = "The ZIP that 'Export everything' gave." };
        var data = new ServiceOptions().Data;
        var command = new Command("import", "Take a full export into an empty data directory. The service must not be running.") { file, data };
        command.SetAction(async (parsed, stop) =>
        {
            var directory = DataDirectory.Resolve(parsed.GetValue(data), ServiceOptions.EnvironmentVariables());
            try
            {
                await using var store = Store.Open(new StoreOptions(directory), TimeProvider.System, NullLogger<Store>.Instance);
                var rows = await FullImport.RunAsync(parsed.GetValue(file)!, store, stop);
                Console.Out.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"In {directory} there are now {rows["batch"]} batches, {rows["journal"]} journal entries, {rows["reading"]} readings, {rows["mapping"]} mappings, {rows["calibration"]} calibrations."));
                Console.Out.WriteLine("Not in an export, so to be set up anew: people and passwords, devices and their keys, channels of notices, the settings file without its Topics and Batches, which are here already.");
                return 0;
            }
            catch (Exception failure) when (failure is WholeImportException or DataDirectoryException or StorageUnavailableException)
            {
                await Console.Error.WriteLineAsync(failure.Message);
                return 1;
            }
        });
        return command;
    }
}
