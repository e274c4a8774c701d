using System.Collections.Concurrent;
using System.Diagnostics.CodeAnalysis;
using System.Net.Sockets;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Formatter;
using MQTTnet.Implementations;
using MQTTnet.Server;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Listens for the embedded broker: one address, a bounded number of sockets, bounded packets.</summary>
internal sealed class BrokerListener(EmbeddedBrokerOptions options) : IMqttServerAdapter
{
    /// <summary>
    /// Longest packet that is read at all. [bytes] A payload beyond 8 kB is recorded by its head; a device that sends more than this is cut off.
    /// </summary>
    public const int LongestPacket = 2 * 1024 * 1024;

    /// <summary>How many connections may be open beyond the clients that are let in, before they say who they are.</summary>
    private const int MostStrangers = 100;

    private static readonly TimeSpan LongestStop = TimeSpan.FromSeconds(1);

    private readonly ConcurrentDictionary<Task, byte> _serving = new();
    private readonly CancellationTokenSource _stop = new();
    private TcpListener? _listener;
    private Task _accepting = Task.CompletedTask;

    /// <inheritdoc/>
    public Func<IMqttChannelAdapter, Task> ClientHandler { get; set; } = _ => Task.CompletedTask;

    /// <inheritdoc/>
    public Task StartAsync(MqttServerOptions settings, IMqttNetLogger logger)
    {
        _listener = new TcpListener(options.Address, options.Port);
        _listener.Start(MostStrangers);
        _accepting = AcceptAsync(_listener, settings, logger);
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public async Task StopAsync()
    {
        await _stop.CancelAsync();
        _listener?.Stop();
        await _accepting;
        await Task.WhenAny(Task.WhenAll(_serving.Keys), Task.Delay(LongestStop));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _listener?.Dispose();
        _stop.Dispose();
    }

    private async Task AcceptAsync(TcpListener listener, MqttServerOptions settings, IMqttNetLogger logger)
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                var socket = await listener.AcceptSocketAsync(_stop.Token);
                if (_serving.Count >= options.MaximumClients + MostStrangers)
                {
                    socket.Dispose();
                    continue;
                }

                var serving = ServeAsync(socket, settings, logger);
                _serving.TryAdd(serving, 0);
                _ = serving.ContinueWith(done => _serving.TryRemove(done, out _), CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
            }
            catch (OperationCanceledException)
            {
                return;
            }
            catch (SocketException cause)
            {
                // Such as too many open files: those that are connected stay served, and the next one may find room.
                logger.Publish(MqttNetLogLevel.Error, nameof(BrokerListener), "A connection could not be taken.", [], cause);
                await Task.Delay(100, CancellationToken.None);
            }
        }
    }

    [SuppressMessage("Design", "CA1031", Justification = "The edge of the pipeline: whatever one connection does, the others are served.")]
    private async Task ServeAsync(Socket socket, MqttServerOptions settings, IMqttNetLogger logger)
    {
        await Task.Yield();
        try
        {
            socket.NoDelay = true;
            await using var stream = new PacketLimitStream(new NetworkStream(socket, ownsSocket: true), LongestPacket);
            using var channel = new MqttTcpChannel(stream, socket.LocalEndPoint, socket.RemoteEndPoint, null);
            var formatter = new MqttPacketFormatterAdapter(new MqttBufferWriter(settings.WriterBufferSize, settings.WriterBufferSizeMax));
            using var adapter = new NamingChannel(new MqttChannelAdapter(channel, formatter, logger));
            await ClientHandler(adapter);
        }
        catch (Exception cause)
        {
            logger.Publish(MqttNetLogLevel.Warning, nameof(BrokerListener), "A connection ended.", [], cause);
        }
    }
}
