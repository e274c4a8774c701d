using System.Diagnostics;
using System.Text;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Influx;

/// <summary>A real server in a process of its own, with a temporary folder; it ends with the test.</summary>
internal sealed class ServerProcess : IAsyncDisposable
{
    private readonly StringBuilder _log = new();
    private readonly string _program;
    private readonly string[] _arguments;
    private Process? _process;

    private ServerProcess(string program, string folder, string[] arguments)
    {
        (_program, Folder) = (program, folder);
        _arguments = [.. arguments.Select(argument => argument.Replace("{folder}", folder, StringComparison.Ordinal))];
    }

    /// <summary>The folder that '{folder}' stands for among the arguments.</summary>
    public string Folder { get; }

    /// <summary>Starts a program and waits until a port of this machine answers.</summary>
    public static async Task<ServerProcess> StartAsync(string program, string folder, int port, params string[] arguments)
    {
        var server = new ServerProcess(program, folder, arguments);
        await server.StartAgainAsync(port);
        return server;
    }

    public async Task StartAgainAsync(int port)
    {
        var start = new ProcessStartInfo(PathOf(_program), _arguments) { RedirectStandardError = true, RedirectStandardOutput = true };
        _process = Process.Start(start) ?? throw new InvalidOperationException($"{_program} did not start");
        DataReceivedEventHandler keep = (_, line) =>
        {
            lock (_log)
            {
                _log.AppendLine(line.Data);
            }
        };
        _process.ErrorDataReceived += keep;
        _process.OutputDataReceived += keep;
        _process.BeginErrorReadLine();
        _process.BeginOutputReadLine();
        await Eventually.TrueAsync(() => Mosquitto.Answers(port) || _process.HasExited, () => $"{_program} listens. {Log()}");
        Assert.False(_process.HasExited, Log());
    }

    /// <summary>kill -9.</summary>
    public void Kill()
    {
        _process?.Kill();
        _process?.WaitForExit();
    }

    /// <summary>Asks it to end, and waits until it has.</summary>
    public async Task EndAsync()
    {
        using var asking = Process.Start("kill", ["-TERM", _process!.Id.ToString(global::System.Globalization.CultureInfo.InvariantCulture)]);
        await _process.WaitForExitAsync(TestContext.Current.CancellationToken);
    }

    public async ValueTask DisposeAsync()
    {
        Kill();
        _process?.Dispose();
        await Task.Run(() => Directory.Delete(Folder, recursive: true));
    }

    private string Log()
    {
        lock (_log)
        {
            return _log.ToString();
        }
    }

    private static string PathOf(string name) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Concat(["/usr/sbin", "/usr/bin"])
            .Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists)
        ?? throw new FileNotFoundException($"{name} is not installed");
}
