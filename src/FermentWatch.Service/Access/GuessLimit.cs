using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;

namespace FermentWatch.Service.Access;

/// <summary>Slows down who guesses passwords and codes, without ever shutting out the owner at another address.</summary>
/// <remarks>An address gets ten tries a minute; further ones are refused unread. An account tried more than twenty times a minute, from wherever, answers slowly.</remarks>
internal sealed class GuessLimit : IAsyncDisposable
{
    /// <summary>Tries that an address has in a minute.</summary>
    public const int TriesOfAnAddress = 10;

    private const int TriesOfAnAccount = 20;

    private static readonly TimeSpan Slow = TimeSpan.FromSeconds(1);

    private readonly PartitionedRateLimiter<string> _addresses = EachMinute(TriesOfAnAddress);
    private readonly PartitionedRateLimiter<string> _accounts = EachMinute(TriesOfAnAccount);

    /// <summary>Whether this address may try once more now.</summary>
    public bool Admits(IPAddress? address)
    {
        using var lease = _addresses.AttemptAcquire(Group(address));
        return lease.IsAcquired;
    }

    /// <summary>Whether this address has no try left now. Asking costs none.</summary>
    public bool IsExhausted(IPAddress? address) => _addresses.GetStatistics(Group(address)) is { CurrentAvailablePermits: <= 0 };

    /// <summary>Waits when the account was tried too often.</summary>
    public async Task PaceAsync(string account, CancellationToken cancellationToken)
    {
        using var lease = _accounts.AttemptAcquire(account.Trim().ToUpperInvariant());
        if (!lease.IsAcquired)
        {
            await Task.Delay(Slow, cancellationToken);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _addresses.DisposeAsync();
        await _accounts.DisposeAsync();
    }

    /// <summary>One household of IPv6 has 2^64 addresses and counts as one.</summary>
    internal static string Group(IPAddress? address)
    {
        if (address is null)
        {
            return "";
        }

        address = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        return address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8)) : address.ToString();
    }

    internal static PartitionedRateLimiter<string> EachMinute(int permits) => PartitionedRateLimiter.Create<string, string>(key =>
        RateLimitPartition.GetSlidingWindowLimiter(key, _ => new SlidingWindowRateLimiterOptions
        {
            PermitLimit = permits,
            Window = TimeSpan.FromMinutes(1),
            SegmentsPerWindow = 6,
            QueueLimit = 0,
        }));
}
