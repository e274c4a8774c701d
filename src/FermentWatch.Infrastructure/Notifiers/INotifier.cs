namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A way to reach the maker. One file for each kind; an instance for each that is set up.</summary>
public interface INotifier
{
    /// <summary>Name of the channel, as outbox rows carry it.</summary>
    string Channel { get; }

    /// <summary>
    /// Tries to deliver one notice. The world's faults are a result, never an exception; a notice may arrive twice, with the same key.
    /// </summary>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken);
}
