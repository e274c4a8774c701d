using System.CommandLine;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Configuration;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.Service.Commands;

/// <summary>A lost password: whoever owns the machine makes a link by which its owner chooses a new one.</summary>
internal static class ResetPasswordCommand
{
    /// <summary>How long the link counts.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromHours(1);

    public static Command Build()
    {
        var name = new Argument<string>("NAME") { Description = "Whose password was lost." };
        var data = new ServiceOptions().Data;
        var command = new Command("reset-password", "Make a link by which somebody chooses a new password. The service must not be running.") { name, data };
        command.SetAction(async (parsed, stop) =>
        {
            var environment = ServiceOptions.EnvironmentVariables();
            var directory = DataDirectory.Resolve(parsed.GetValue(data), environment);
            var (text, isDone) = await RunAsync(parsed.GetValue(name)!, directory, environment, TimeProvider.System, stop);
            await (isDone ? Console.Out : Console.Error).WriteLineAsync(text);
            return isDone ? 0 : 1;
        });
        return command;
    }

    /// <summary>Makes the link. What to tell, and whether it was made.</summary>
    public static async Task<(string Text, bool IsDone)> RunAsync(
        string name, string directory, IReadOnlyDictionary<string, string?> environment, TimeProvider clock, CancellationToken stop)
    {
        var options = new StoreOptions(directory);
        if (!File.Exists(options.DatabasePath))
        {
            return ($"There is no data in {directory}. Give the directory of the service with --data DIR.", false);
        }

        try
        {
            await using var store = Store.Open(options, clock, NullLogger<Store>.Instance);
            if (store.FindPerson(name) is not { } person)
            {
                var people = store.ReadPeople();
                return (people.Count == 0
                    ? "Nobody has a password yet. Start the service: it prints a set-up code."
                    : $"There is nobody called '{name}'. People: {string.Join(", ", people.Select(one => one.Name))}.", false);
            }

            if (person.IsDisabled)
            {
                return ($"{person.Name} was shut out by a maker, who can let them in again on the page People. Nothing was changed.", false);
            }

            var code = Secrets.NewKey();
            await store.RenewInvitationAsync(person.Id, Secrets.Hash(code), ReceivedAt.From(clock.GetUtcNow() + Lifetime), stop);
            return ($"Start the service and open {PageOf(directory, environment)}/invitation/{code} within 60 minutes: there {person.Name} chooses a new password. "
                + "The link works once. Until then the password so far counts; after it every browser is signed out.", true);
        }
        catch (DataDirectoryException failure)
        {
            return (failure.Problem == DataDirectoryProblem.InUse ? failure.Message + " Stop the service first." : failure.Message, false);
        }
        catch (StorageUnavailableException failure)
        {
            return (failure.Message, false);
        }
    }

    private static string PageOf(string directory, IReadOnlyDictionary<string, string?> environment)
    {
        var page = SettingsLoader.Load(directory, environment, new Dictionary<string, string?>()).Settings?.Page;
        return (page?.BaseUrl?.AbsoluteUri ?? (page?.Address.AbsoluteUri.TrimEnd('/') ?? "http://127.0.0.1:5080") + page?.PathBase).TrimEnd('/');
    }
}
