using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>What became of an attempt to deliver. Reasons hold no address and no secret.</summary>
public abstract record DeliveryResult
{
    private DeliveryResult()
    {
    }

    /// <summary>The channel took it.</summary>
    /// <param name="Remark">What the channel said beside it, such as that nobody listens there; null for nothing.</param>
    public sealed record Delivered(Reason? Remark = null) : DeliveryResult;

    /// <summary>It failed in a way that may pass.</summary>
    /// <param name="Because">Why.</param>
    /// <param name="NotBefore">The channel's own word on when to come again; null when it said nothing.</param>
    public sealed record TryAgain(Reason Because, ReceivedAt? NotBefore) : DeliveryResult;

    /// <summary>The channel will not take it, now or later, as things are set up.</summary>
    /// <param name="Because">Why.</param>
    public sealed record Refused(Reason Because) : DeliveryResult;
}
