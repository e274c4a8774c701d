using System.Threading.Channels;

namespace FermentWatch.Service.Pipeline;

/// <summary>Wakes a loop. Several calls before it looks wake it once.</summary>
public sealed class WorkSignal
{
    private readonly Channel<bool> _signal = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>Something is to be done.</summary>
    public void Set() => _signal.Writer.TryWrite(true);

    /// <summary>Waits for a call of <see cref="Set"/>, or until the time is over.</summary>
    public async Task WaitAsync(TimeSpan longest, CancellationToken cancellationToken)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(longest);
        try
        {
            await _signal.Reader.ReadAsync(limit.Token);
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            // The time is over: the loop looks anyway.
        }
    }
}
