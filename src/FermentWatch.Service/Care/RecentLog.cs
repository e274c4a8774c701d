using System.Globalization;

namespace FermentWatch.Service.Care;

/// <summary>Remembers the newest lines of the log for the diagnostics.</summary>
public sealed class RecentLog : ILoggerProvider
{
    /// <summary>Lines that are remembered.</summary>
    public const int Kept = 500;

    private const int LongestLine = 2000;

    private readonly Queue<string> _lines = new();

    /// <summary>The newest lines, oldest first.</summary>
    public IReadOnlyList<string> Lines
    {
        get
        {
            lock (_lines)
            {
                return [.. _lines];
            }
        }
    }

    /// <inheritdoc/>
    public ILogger CreateLogger(string categoryName) => new Log(this, categoryName);

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private void Add(string line)
    {
        lock (_lines)
        {
            _lines.Enqueue(line.Length > LongestLine ? line[..LongestLine] : line);
            while (_lines.Count > Kept)
            {
                _lines.Dequeue();
            }
        }
    }

    private sealed class Log(RecentLog all, string category) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Information;

        void ILogger.Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
        {
            if (IsEnabled(logLevel))
            {
                var text = exception is null ? formatter(state, exception) : $"{formatter(state, exception)} {exception.GetType().Name}: {exception.Message}";
                var line = string.Create(CultureInfo.InvariantCulture, $"{DateTime.UtcNow:yyyy-MM-dd'T'HH:mm:ss'Z'} {logLevel} {category}: {text}");
                all.Add(new string([.. line.Select(character => char.IsControl(character) ? ' ' : character)]));
            }
        }
    }
}
