using System.Security.Cryptography;
using System.Text;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Who comes in to the embedded broker, and under which name.</summary>
internal sealed class BrokerDoor(EmbeddedBrokerOptions options)
{
    private int _clients;

    /// <summary>Clients connected now.</summary>
    public int Clients => Volatile.Read(ref _clients);

    /// <summary>A server that listens as the options say and lets in whom this door admits.</summary>
    public MqttServer Build(IMqttNetLogger log)
    {
        var factory = new MqttServerFactory();
        var settings = factory.CreateServerOptionsBuilder()
            .WithDefaultCommunicationTimeout(options.GreetingTimeout)
            .WithPersistentSessions()
            .Build();
        var server = factory.CreateMqttServer(settings, [new BrokerListener(options)], log);
        server.ValidatingConnectionAsync += OnGreetingAsync;
        server.ClientConnectedAsync += _ => Count(Interlocked.Increment(ref _clients));
        server.ClientDisconnectedAsync += _ => Count(Interlocked.Decrement(ref _clients));
        return server;
    }

    private static Task Count(int _) => Task.CompletedTask;

    private Task OnGreetingAsync(ValidatingConnectionEventArgs args)
    {
        if (string.IsNullOrEmpty(args.ClientId))
        {
            // In MQTT 5 the server names such a client and tells it the name.
            args.AssignedClientIdentifier = NamingChannel.NewName();
        }

        if (Clients >= options.MaximumClients)
        {
            args.ReasonCode = MqttConnectReasonCode.ServerBusy;
        }
        else if (options.UserName is not null && !Knows(args.UserName, args.RawPassword))
        {
            args.ReasonCode = MqttConnectReasonCode.BadUserNameOrPassword;
        }
        else if (options.Admission is { } admission && !admission.Admits(args.UserName, args.RawPassword))
        {
            args.ReasonCode = MqttConnectReasonCode.NotAuthorized;
        }

        return Task.CompletedTask;
    }

    private bool Knows(string? userName, byte[]? password)
    {
        var sameName = CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(userName ?? ""), Encoding.UTF8.GetBytes(options.UserName ?? ""));
        var samePassword = CryptographicOperations.FixedTimeEquals(password ?? [], Encoding.UTF8.GetBytes(options.Password ?? ""));
        return sameName & samePassword;
    }
}
