using System.CommandLine;
using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Copies the database while the service may run, and puts such a copy back.</summary>
internal static class BackupCommand
{
    /// <summary>The exit code when the file or the place is refused.</summary>
    public const int Refused = 2;

    public static Command BuildBackup()
    {
        var to = new Option<string?>("--to") { Description = "The file to write. Default: backups/fermentwatch-TIME.db in the data directory.", HelpName = "FILE" };
        var data = new ServiceOptions().Data;
        var command = new Command("backup", "Copy the database into one file and compare the copy. The service may run.") { to, data };
        command.SetAction(parsed => Run(() =>
        {
            var made = Backup.Make(OptionsOf(parsed.GetValue(data)), parsed.GetValue(to), TimeProvider.System.GetUtcNow());
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{made.Path}: schema {made.Schema}, {made.Rows} rows, the same as in the database at that moment."));
            Console.Out.WriteLine("Keep it private: it holds people and hashes of their passwords. Not in it: fermentwatch.json and keys/ (the keys to the passwords of brokers and channels). Keep those apart from it.");
        }));
        return command;
    }

    public static Command BuildRestore()
    {
        var file = new Argument<string>("FILE") { Description = "A file that 'backup' wrote." };
        var replace = new Option<bool>("--replace") { Description = "Set a database that is there aside, in before-restore-TIME of the data directory." };
        var data = new ServiceOptions().Data;
        var command = new Command("restore", "Put a backup into a data directory. The service must not be running.") { file, replace, data };
        command.SetAction(parsed => Run(() =>
        {
            var put = Backup.Restore(parsed.GetValue(file)!, OptionsOf(parsed.GetValue(data)), parsed.GetValue(replace), TimeProvider.System.GetUtcNow());
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{put.Path}: schema {put.Schema}, {put.Rows} rows, the same as in the backup."));
            if (put.SetAside is { } aside)
            {
                Console.Out.WriteLine($"The database before is in {aside}. Delete it once you are sure.");
            }

            Console.Out.WriteLine("Put fermentwatch.json and keys/ back as well. Without the keys everybody signs in again, and passwords of brokers and channels are typed anew.");
        }));
        return command;
    }

    private static StoreOptions OptionsOf(string? data) => new(DataDirectory.Resolve(data, ServiceOptions.EnvironmentVariables()));

    private static int Run(Action work)
    {
        try
        {
            work();
            return 0;
        }
        catch (Exception failure) when (failure is BackupException or DataDirectoryException)
        {
            Console.Error.WriteLine(failure.Message);
            return Refused;
        }
    }
}
