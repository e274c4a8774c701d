using System.Collections.Concurrent;
using System.Diagnostics.CodeAnalysis;
using System.Net.Security;
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
    private readonly List<TcpListener> _listeners = [];
    private Task _accepting = Task.CompletedTask;

    /// <inheritdoc/>
    public Func<IMqttChannelAdapter, Task> ClientHandler { get; set; } = _ => Task.CompletedTask;

    /// <inheritdoc/>
    public Task StartAsync(MqttServerOptions settings, IMqttNetLogger logger)
    {
        var plain = Open(options.Port);
        var encrypted = options.Certificate is null ? null : Open(options.TlsPort);
        _accepting = Task.WhenAll(
            AcceptAsync(plain, null, settings, logger),
            encrypted is null ? Task.CompletedTask : AcceptAsync(encrypted, options.Certificate, settings, logger));
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public async Task StopAsync()
    {
        await _stop.CancelAsync();
        _listeners.ForEach(listener => listener.Stop());
        await _accepting;
        await Task.WhenAny(Task.WhenAll(_serving.Keys), Task.Delay(LongestStop));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _listeners.ForEach(listener => listener.Dispose());
        _stop.Dispose();
    }

    /// <exception cref="BrokerStartException">The port cannot be used; what was opened before is closed again.</exception>
    private TcpListener Open(int port)
    {
        var listener = new TcpListener(options.Address, port);
        _listeners.Add(listener);
        try
        {
            listener.Start(MostStrangers);
            return listener;
        }
        catch (SocketException cause)
        {
            _listeners.ForEach(open => open.Stop());
            throw new BrokerStartException(options.Address, port, cause);
        }
    }

    private async Task AcceptAsync(TcpListener listener, BrokerCertificate? certificate, MqttServerOptions settings, IMqttNetLogger logger)
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

                var serving = ServeAsync(socket, certificate, settings, logger);
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
    private async Task ServeAsync(Socket socket, BrokerCertificate? certificate, MqttServerOptions settings, IMqttNetLogger logger)
    {
        await Task.Yield();
        try
        {
            socket.NoDelay = true;
            await using var wire = await OpenAsync(new NetworkStream(socket, ownsSocket: true), certificate);
            await using var stream = new PacketLimitStream(wire, LongestPacket);
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

    private async Task<Stream> OpenAsync(NetworkStream network, BrokerCertificate? certificate)
    {
        if (certificate is null)
        {
            return network;
        }

        var secure = new SslStream(network, leaveInnerStreamOpen: false);
        using var limit = new CancellationTokenSource(options.GreetingTimeout);
        try
        {
            await secure.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificateContext = certificate.Context }, limit.Token);
            return secure;
        }
        catch
        {
            await secure.DisposeAsync();
            throw;
        }
    }
}
