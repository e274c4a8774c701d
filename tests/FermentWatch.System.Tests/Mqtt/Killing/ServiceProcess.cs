using System.Diagnostics;
using System.Text;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt.Killing;

/// <summary>The real service as a process of its own, over a data directory of its own.</summary>
internal sealed class ServiceProcess : IAsyncDisposable
{
    private readonly StringBuilder _output = new();
    private readonly string[] _arguments;
    private Process? _process;

    /// <param name="configuration">Content of fermentwatch.json.</param>
    /// <param name="arguments">Further arguments.</param>
    public ServiceProcess(string configuration, params string[] arguments)
    {
        File.WriteAllText(Path.Combine(DataDirectory, "fermentwatch.json"), configuration);
        _arguments = [Path.Combine(AppContext.BaseDirectory, "fermentwatch.dll"), "--data", DataDirectory, "--page", "http://127.0.0.1:0", .. arguments];
    }

    public string DataDirectory { get; } = Directory.CreateTempSubdirectory("fermentwatch-killed-").FullName;

    public string Output
    {
        get
        {
            lock (_output)
            {
                return _output.ToString();
            }
        }
    }

    /// <summary>Whether it said where its page is since the last start.</summary>
    public bool IsUp => Output.Contains("The page is at", StringComparison.Ordinal);

    public bool HasExited => _process?.HasExited ?? true;

    public void Start()
    {
        lock (_output)
        {
            _output.Clear();
        }

        var start = new ProcessStartInfo(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet", _arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        _process = Process.Start(start) ?? throw new InvalidOperationException("The service did not start.");
        _process.OutputDataReceived += Note;
        _process.ErrorDataReceived += Note;
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    public Task ComesUpAsync() => Eventually.TrueAsync(
        () => HasExited ? throw new InvalidOperationException("The service ended: " + Output) : IsUp, () => "the service comes up. " + Output, TimeSpan.FromMinutes(4));

    /// <summary>SIGKILL.</summary>
    public void Kill()
    {
        _process!.Kill();
        _process.WaitForExit();
        _process.Dispose();
        _process = null;
    }

    /// <summary>SIGTERM, and waits until it has ended. Its exit code.</summary>
    public async Task<int> StopAsync()
    {
        using (var terminate = Process.Start("sh", ["-c", $"kill -TERM {_process!.Id}"]))
        {
            await terminate.WaitForExitAsync(TestContext.Current.CancellationToken);
        }

        await Eventually.TrueAsync(() => _process.HasExited, () => "the service ends when asked. " + Output);
        var code = _process.ExitCode;
        _process.Dispose();
        _process = null;
        return code;
    }

    public async ValueTask DisposeAsync()
    {
        if (_process is not null)
        {
            Kill();
        }

        await Task.Run(() => Directory.Delete(DataDirectory, recursive: true));
    }

    private void Note(object sender, DataReceivedEventArgs line)
    {
        if (line.Data is not null)
        {
            lock (_output)
            {
                _output.AppendLine(line.Data);
            }
        }
    }
}
