using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>A real mosquitto of our own, on a free port, with a configuration in a temporary folder.</summary>
internal sealed class Mosquitto : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-mosquitto-").FullName;
    private readonly string _configuration;
    private readonly StringBuilder _log = new();
    private Process? _process;

    private Mosquitto(string[] lines, bool persistence)
    {
        _configuration = Path.Combine(_folder, "mosquitto.conf");
        string[] always =
        [
            $"listener {Port} 127.0.0.1", "user root", "log_dest stderr", "log_type all",
            "max_queued_messages 1000000", "max_inflight_messages 1000",
            $"persistence {(persistence ? "true" : "false")}", $"persistence_location {_folder}/",
        ];
        File.WriteAllLines(_configuration, [.. always, .. lines.Select(line => line.Replace("{folder}", _folder, StringComparison.Ordinal))]);
    }

    public int Port { get; } = FreePort.Take();

    public string Log
    {
        get
        {
            lock (_log)
            {
                return _log.ToString();
            }
        }
    }

    public static Task<Mosquitto> StartAsync(params string[] lines) =>
        StartAsync(persistence: true, _ => [], lines.Length == 0 ? ["allow_anonymous true"] : lines);

    /// <param name="persistence">Whether the sessions survive the broker's own restart.</param>
    /// <param name="files">Writes what the lines refer to into the folder; adds further lines.</param>
    /// <param name="lines">Configuration; {folder} stands for the temporary folder.</param>
    public static async Task<Mosquitto> StartAsync(bool persistence, Func<string, string[]> files, params string[] lines)
    {
        var folderFirst = new Mosquitto(lines, persistence);
        await File.AppendAllLinesAsync(folderFirst._configuration, files(folderFirst._folder), TestContext.Current.CancellationToken);
        await folderFirst.StartAgainAsync();
        return folderFirst;
    }

    public async Task StartAgainAsync()
    {
        _process = Process.Start(new ProcessStartInfo(Program("mosquitto"), ["-c", _configuration]) { RedirectStandardError = true })
            ?? throw new InvalidOperationException("mosquitto did not start");
        _process.ErrorDataReceived += (_, line) =>
        {
            lock (_log)
            {
                _log.AppendLine(line.Data);
            }
        };
        _process.BeginErrorReadLine();
        await Eventually.TrueAsync(() => Answers(Port) || _process.HasExited, () => "mosquitto listens. " + Log);
        Assert.False(_process.HasExited, Log);
    }

    /// <summary>kill -9.</summary>
    public void Kill()
    {
        _process?.Kill();
        _process?.WaitForExit();
    }

    public async ValueTask DisposeAsync()
    {
        Kill();
        _process?.Dispose();
        await Task.Run(() => Directory.Delete(_folder, recursive: true));
    }

    /// <summary>Runs mosquitto_pub against a port and returns its exit code and what it complained about.</summary>
    public static async Task<(int ExitCode, string Complaint)> PublishAsync(int port, params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(Program("mosquitto_pub"), ["-h", "127.0.0.1", "-p", $"{port}", .. arguments]) { RedirectStandardError = true })!;
        var complaint = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, complaint);
    }

    /// <summary>Writes a password file with mosquitto's own tool.</summary>
    public static void WritePassword(string file, string user, string password)
    {
        using var process = Process.Start(new ProcessStartInfo(Program("mosquitto_passwd"), ["-b", "-c", file, user, password]) { RedirectStandardError = true })!;
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }

    public static bool Answers(int port)
    {
        using var client = new TcpClient();
        try
        {
            client.Connect(IPAddress.Loopback, port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static string Program(string name)
    {
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        return folders.Concat(["/usr/sbin", "/usr/local/sbin", "/opt/homebrew/sbin"]).Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists)
            ?? throw new FileNotFoundException($"{name} is not installed");
    }
}
