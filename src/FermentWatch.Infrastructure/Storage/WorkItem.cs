namespace FermentWatch.Infrastructure.Storage;

/// <summary>A piece of work for the writer thread. It may run more than once (after a rollback), but commits once.</summary>
internal abstract class WorkItem
{
    /// <summary>Writes within the open transaction.</summary>
    public abstract void Execute(WriteConnection connection);

    /// <summary>Called after the commit reached the disk.</summary>
    public abstract void Complete();

    /// <summary>Called when it was not committed.</summary>
    public abstract void Fail(Exception cause);
}

/// <summary>A piece of work with an answer.</summary>
internal sealed class WorkItem<T> : WorkItem
{
    private readonly TaskCompletionSource<T> _completion = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Func<WriteConnection, T> _work;
    private T? _answer;

    public WorkItem(Func<WriteConnection, T> work) => _work = work;

    /// <summary>Ends after the commit.</summary>
    public Task<T> Completion => _completion.Task;

    /// <inheritdoc/>
    public override void Execute(WriteConnection connection) => _answer = _work(connection);

    /// <inheritdoc/>
    public override void Complete() => _completion.TrySetResult(_answer!);

    /// <inheritdoc/>
    public override void Fail(Exception cause) => _completion.TrySetException(cause);
}
