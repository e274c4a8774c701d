using System.Threading.RateLimiting;
using FermentWatch.Service.Access;

namespace FermentWatch.Service.Api;

/// <summary>How often an address may send readings: a device that runs wild must not keep the disk busy.</summary>
internal sealed class ReadingsLimit : IAsyncDisposable
{
    /// <summary>Requests of an address in a minute.</summary>
    public const int RequestsOfAnAddress = 120;

    private readonly PartitionedRateLimiter<string> _limiter = GuessLimit.EachMinute(RequestsOfAnAddress);

    public bool Admits(System.Net.IPAddress? address)
    {
        using var lease = _limiter.AttemptAcquire(GuessLimit.Group(address));
        return lease.IsAcquired;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _limiter.DisposeAsync();
}
