using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>A sensor that publishes again and again until it is disposed.</summary>
internal sealed class Talker : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _talking;

    public Talker(int port, params string[] arguments) => _talking = TalkAsync(port, arguments);

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _talking;
        _stop.Dispose();
    }

    private async Task TalkAsync(int port, string[] arguments)
    {
        while (!_stop.IsCancellationRequested)
        {
            var (exit, complaint) = await Mosquitto.PublishAsync(port, [.. arguments, "-t", "cellar/float-2", "-m", "1.048"]);
            Assert.True(exit == 0, complaint);
        }
    }
}
