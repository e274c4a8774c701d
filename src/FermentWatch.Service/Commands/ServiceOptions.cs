using System.Collections;
using System.CommandLine;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Options that running the service and the demo share.</summary>
internal sealed class ServiceOptions
{
    public Option<string?> Data { get; } = new("--data")
    {
        Description = "Directory of the data and of fermentwatch.json. Default: $XDG_DATA_HOME/fermentwatch, else ~/.local/share/fermentwatch.",
        HelpName = "DIR",
    };

    public Option<string?> Page { get; } = new("--page") { Description = "Address of the page, such as http://127.0.0.1:5080.", HelpName = "ADDRESS" };

    public Option<int?> BrokerPort { get; } = new("--broker-port") { Description = "Port of the embedded broker, 1 to 65535. Default 1883.", HelpName = "PORT" };

    public Option<string[]> Set { get; } = new("--set")
    {
        Description = "Any setting, such as --set Page:CellarName=\"Low Barn\"; the command 'settings' lists them. May be given more than once.",
        HelpName = "KEY=VALUE",
        DefaultValueFactory = _ => [],
    };

    public ServiceOptions() => Set.Validators.Add(given =>
    {
        foreach (var token in given.Tokens.Where(token => token.Value.IndexOf('=', StringComparison.Ordinal) <= 0))
        {
            given.AddError($"--set {token.Value}: expected KEY=VALUE, such as --set Broker:Port=1884.");
        }
    });

    public void AddTo(Command command)
    {
        command.Options.Add(Data);
        command.Options.Add(Page);
        command.Options.Add(BrokerPort);
        command.Options.Add(Set);
    }

    /// <summary>The settings, or null after every error was printed.</summary>
    public ServiceSettings? Read(ParseResult parsed, string directory, IReadOnlyDictionary<string, string?> environment)
    {
        var overrides = new Dictionary<string, string?>(StringComparer.OrdinalIgnoreCase);
        foreach (var pair in parsed.GetValue(Set) ?? [])
        {
            var at = pair.IndexOf('=', StringComparison.Ordinal);
            overrides[pair[..at]] = pair[(at + 1)..];
        }

        if (parsed.GetValue(Page) is { } page)
        {
            overrides[PageCatalog.PageAddress.Key] = page;
        }

        if (parsed.GetValue(BrokerPort) is { } port)
        {
            overrides[BrokerCatalog.EmbeddedPort.Key] = port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        }

        var result = SettingsLoader.Load(directory, environment, overrides);
        foreach (var line in result.Errors.Concat(result.Warnings.Select(warning => "Note: " + warning)))
        {
            Console.Error.WriteLine(line);
        }

        return result.Settings;
    }

    public static IReadOnlyDictionary<string, string?> EnvironmentVariables() => Environment.GetEnvironmentVariables()
        .Cast<DictionaryEntry>()
        .ToDictionary(entry => (string)entry.Key, entry => (string?)entry.Value, StringComparer.Ordinal);
}
