using FermentWatch.Infrastructure.Mqtt;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>An embedded broker on a free port over a probe.</summary>
internal sealed class EmbeddedFixture : IAsyncDisposable
{
    private EmbeddedFixture(EmbeddedBrokerOptions options, string[] filters)
    {
        Port = options.Port;
        Broker = new EmbeddedBroker(options, InboxProbe.Interest(filters), Probe.RecordAsync, Probe.ConfirmAsync, TimeProvider.System, NullLogger.Instance);
    }

    public InboxProbe Probe { get; } = new();

    public EmbeddedBroker Broker { get; }

    public int Port { get; }

    public static async Task<EmbeddedFixture> StartAsync(EmbeddedBrokerOptions? options = null, params string[] filters)
    {
        var fixture = new EmbeddedFixture((options ?? new EmbeddedBrokerOptions()) with { Port = FreePort.Take() }, filters.Length == 0 ? ["cellar/#"] : filters);
        await fixture.Broker.StartAsync(TestContext.Current.CancellationToken);
        return fixture;
    }

    public ValueTask DisposeAsync() => Broker.DisposeAsync();
}
