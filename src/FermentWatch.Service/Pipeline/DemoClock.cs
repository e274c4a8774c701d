namespace FermentWatch.Service.Pipeline;

/// <summary>
/// The clock of the demo: first it stands where the publisher of the history puts it, then it runs at a chosen multiple of real time.
/// </summary>
/// <remarks>Timers stay real: a network timeout must not shrink because the demo's days are short.</remarks>
public sealed class DemoClock : TimeProvider
{
    private readonly TimeProvider _real;
    private readonly Lock _gate = new();
    private DateTimeOffset _shown;
    private long _since;
    private double _speed;
    private bool _running;

    /// <summary>Starts standing at <paramref name="start"/>.</summary>
    public DemoClock(DateTimeOffset start, TimeProvider? real = null)
    {
        _real = real ?? System;
        _shown = start;
        Origin = start;
    }

    /// <summary>Where the clock began.</summary>
    public DateTimeOffset Origin { get; }

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <summary>Puts a standing clock forward; backward is ignored, since time that readings have seen does not return.</summary>
    public void MoveTo(DateTimeOffset time)
    {
        lock (_gate)
        {
            if (!_running && time > _shown)
            {
                _shown = time;
            }
        }
    }

    /// <summary>Lets the clock run at <paramref name="speed"/> demo seconds a real second.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Speed is not above 0.</exception>
    public void Run(double speed)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(speed);
        lock (_gate)
        {
            _speed = speed;
            _since = _real.GetTimestamp();
            _running = true;
        }
    }

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow()
    {
        lock (_gate)
        {
            return _running ? _shown + (_real.GetElapsedTime(_since) * _speed) : _shown;
        }
    }

    /// <inheritdoc/>
    public override long GetTimestamp() => (GetUtcNow() - Origin).Ticks;
}
