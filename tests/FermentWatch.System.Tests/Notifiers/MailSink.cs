using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using FermentWatch.System.Tests.Mqtt;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>A real mail server that prints what it gets: Debian's aiosmtpd.</summary>
internal sealed class MailSink : IAsyncDisposable
{
    private readonly Process _process;
    private readonly ConcurrentQueue<string> _lines = new();

    private MailSink(Process process, int port) => (_process, Port) = (process, port);

    public int Port { get; }

    /// <summary>All that it printed.</summary>
    public string Text => string.Join('\n', _lines);

    public static async Task<MailSink> StartAsync()
    {
        var port = FreePort.Take();
        var start = new ProcessStartInfo("/usr/bin/aiosmtpd", ["-n", "-l", $"127.0.0.1:{port}", "-c", "aiosmtpd.handlers.Debugging", "stdout"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["PYTHONUNBUFFERED"] = "1";
        var sink = new MailSink(Process.Start(start)!, port);
        DataReceivedEventHandler keep = (_, line) => sink._lines.Enqueue(line.Data ?? "");
        sink._process.OutputDataReceived += keep;
        sink._process.ErrorDataReceived += keep;
        sink._process.BeginOutputReadLine();
        sink._process.BeginErrorReadLine();
        await Eventually.TrueAsync(() => Answers(port), () => $"the mail server does not answer: {sink.Text}");
        return sink;
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
    }

    private static bool Answers(int port)
    {
        try
        {
            using var client = new TcpClient();
            client.Connect(IPAddress.Loopback, port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}

/// <summary>A mail server that says what a test tells it to say, a line for each command; nothing else of SMTP.</summary>
internal sealed class ScriptedMailServer : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly Func<string, string?> _answer;
    private readonly Task _serving;

    /// <param name="answer">From a command to the answer; null closes the connection.</param>
    public ScriptedMailServer(Func<string, string?> answer)
    {
        _answer = answer;
        _listener.Start();
        _serving = ServeAsync();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    public async ValueTask DisposeAsync()
    {
        _listener.Stop();
        await _serving;
    }

    private async Task ServeAsync()
    {
        try
        {
            while (true)
            {
                using var client = await _listener.AcceptTcpClientAsync();
                await using var stream = client.GetStream();
                await TalkAsync(stream);
            }
        }
        catch (Exception end) when (end is SocketException or ObjectDisposedException or IOException or InvalidOperationException)
        {
            // The test is over.
        }
    }

    private async Task TalkAsync(NetworkStream stream)
    {
        using var reader = new StreamReader(stream, Encoding.Latin1);
        var inLetter = false;
        var command = "connect";
        while (command is not null)
        {
            if (inLetter && command != ".")
            {
                command = await reader.ReadLineAsync();
                continue;
            }

            inLetter = false;
            if (_answer(command) is not { } answer)
            {
                return;
            }

            await stream.WriteAsync(Encoding.Latin1.GetBytes(answer + "\r\n"));
            inLetter = answer.StartsWith("354", StringComparison.Ordinal);
            command = await reader.ReadLineAsync();
        }
    }
}
