namespace FermentWatch.Service.Backtest;

/// <summary>A folder that cannot be replayed, with a sentence for the user: which file, what stands there, what would be right.</summary>
internal sealed class BacktestException : Exception
{
    public BacktestException(string message)
        : base(message)
    {
    }

    public BacktestException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
