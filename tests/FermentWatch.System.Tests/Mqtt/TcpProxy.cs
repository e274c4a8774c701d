using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Stands between client and broker: passes on, goes silent without closing, or answers as an old broker would.</summary>
internal sealed class TcpProxy : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentBag<TcpClient> _sockets = [];
    private readonly CancellationTokenSource _end = new();
    private readonly int _target;
    private readonly Task _accepting;
    private volatile bool _silent;

    public TcpProxy(int target)
    {
        _target = target;
        _listener.Start();
        Port = ((IPEndPoint)_listener.LocalEndpoint).Port;
        _accepting = AcceptAsync();
    }

    public int Port { get; }

    /// <summary>Bytes are swallowed in both directions, and the sockets stay open: a half-open link.</summary>
    public bool Silent
    {
        get => _silent;
        set => _silent = value;
    }

    /// <summary>Greetings of MQTT 5 are answered as a broker that knows 3.1.1 only does: return code 1, then closed (MQTT 3.1.1 section 3.1.2.2).</summary>
    public bool KnowsOnlyVersion311 { get; init; }

    /// <summary>Closes every connection; new ones are taken.</summary>
    public void Break()
    {
        while (_sockets.TryTake(out var socket))
        {
            socket.Dispose();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        _listener.Stop();
        foreach (var socket in _sockets)
        {
            socket.Dispose();
        }

        await _accepting;
        _end.Dispose();
    }

    private async Task AcceptAsync()
    {
        List<Task> pumps = [];
        try
        {
            while (true)
            {
                var client = await _listener.AcceptTcpClientAsync(_end.Token);
                client.NoDelay = true;
                var broker = new TcpClient { NoDelay = true };
                _sockets.Add(client);
                _sockets.Add(broker);
                pumps.Add(ServeAsync(client, broker));
            }
        }
        catch (OperationCanceledException)
        {
            await Task.WhenAll(pumps);
        }
    }

    private async Task ServeAsync(TcpClient client, TcpClient broker)
    {
        try
        {
            await broker.ConnectAsync(IPAddress.Loopback, _target, _end.Token);
            if (KnowsOnlyVersion311 && await IsVersion5Async(client, broker))
            {
                await client.GetStream().WriteAsync(new byte[] { 0x20, 2, 0, 1 }, _end.Token);
                return;
            }

            await Task.WhenAny(PumpAsync(client, broker), PumpAsync(broker, client));
        }
        catch (Exception cause) when (cause is SocketException or IOException or OperationCanceledException or ObjectDisposedException)
        {
            // Either side has gone.
        }
        finally
        {
            client.Dispose();
            broker.Dispose();
        }
    }

    private async Task<bool> IsVersion5Async(TcpClient client, TcpClient broker)
    {
        // Fixed header of two bytes (our greetings are short), protocol name with its length, then the version.
        var head = new byte[9];
        await client.GetStream().ReadExactlyAsync(head, _end.Token);
        if (head[8] == 5)
        {
            return true;
        }

        await broker.GetStream().WriteAsync(head, _end.Token);
        return false;
    }

    private async Task PumpAsync(TcpClient from, TcpClient to)
    {
        var buffer = new byte[16 * 1024];
        while (await from.GetStream().ReadAsync(buffer, _end.Token) is var count and > 0)
        {
            if (!_silent)
            {
                await to.GetStream().WriteAsync(buffer.AsMemory(0, count), _end.Token);
            }
        }
    }
}
