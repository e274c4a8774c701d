using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>A running client of an external broker over a probe.</summary>
internal sealed class ExternalFixture : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _running;

    private ExternalFixture(ExternalBrokerOptions options, InboxProbe probe, string[] filters)
    {
        Probe = probe;
        Client = new ExternalBrokerClient(options, InboxProbe.Interest(filters), probe.RecordAsync, probe.ConfirmAsync, TimeProvider.System, NullLogger.Instance);
        _running = Client.RunAsync(_stop.Token);
    }

    public InboxProbe Probe { get; }

    public ExternalBrokerClient Client { get; }

    /// <summary>The values that go into the words of the problem.</summary>
    public IReadOnlyList<string> ProblemValues =>
        [.. (Client.Status.Problem?.Values.AsEnumerable() ?? []).Select(value => value is ReasonValue.Name name ? name.Text : value.ToString())];

    /// <summary>Options with short waits.</summary>
    public static ExternalBrokerOptions Options(int port) => new()
    {
        Host = "127.0.0.1",
        Port = port,
        ClientId = "watch-1",
        ShortestWait = TimeSpan.FromMilliseconds(50),
        LongestWait = TimeSpan.FromMilliseconds(400),
    };

    public static ExternalFixture Start(ExternalBrokerOptions options, InboxProbe? probe = null, params string[] filters) =>
        new(options, probe ?? new InboxProbe(), filters.Length == 0 ? ["cellar/#"] : filters);

    public static async Task<ExternalFixture> ConnectAsync(ExternalBrokerOptions options, InboxProbe? probe = null, params string[] filters)
    {
        var fixture = Start(options, probe, filters);
        await fixture.ComesToAsync(BrokerConnectionState.Connected);
        return fixture;
    }

    public Task ComesToAsync(BrokerConnectionState state, string? problem = null) => Eventually.TrueAsync(
        () => Client.Status is var status && status.State == state && (problem is null || status.Problem?.Code == problem),
        () => $"state {state} {problem}, but it is {Client.Status}");

    public Task CountsAsync(int messages) =>
        Eventually.TrueAsync(() => Probe.Messages.Count >= messages, () => $"{messages} messages recorded, but there are {Probe.Messages.Count}; {Client.Status}");

    /// <summary>Stops as the service does.</summary>
    public async Task StopAsync()
    {
        await _stop.CancelAsync();
        await _running;
    }

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        _stop.Dispose();
    }
}
