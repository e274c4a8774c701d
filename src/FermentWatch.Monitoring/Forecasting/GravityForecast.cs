using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Five quantiles. p25 to p75 is the 1-in-2 range, p05 to p95 the 9-in-10 range.</summary>
/// <typeparam name="T">The quantity.</typeparam>
public sealed record Quantiles<T>(T P05, T P25, T P50, T P75, T P95);

/// <summary>A point of a curve of gravity over time.</summary>
/// <param name="At">When.</param>
/// <param name="Gravity">Gravity then.</param>
public readonly record struct CurvePoint(EventTime At, SpecificGravity Gravity);

/// <summary>One of twenty equally likely ways on from now.</summary>
/// <param name="Finish">When it comes within 0.001 of its end for good.</param>
/// <param name="End">Gravity at which it ends.</param>
/// <param name="Points">From now to the finish, in time order.</param>
public sealed record FutureCurve(EventTime Finish, SpecificGravity End, ValueList<CurvePoint> Points);

/// <summary>Where a ferment will end, and when, with odds. A function of the facts up to <see cref="AsOf"/> alone.</summary>
/// <param name="AsOf">The grid line in event time on which the forecast stands.</param>
/// <param name="EngineVersion">Version of the method, so that an old forecast can be told from a new one.</param>
/// <param name="NotYet">Why the readings do not determine it yet, or null when they do. The wide quantiles are filled all the same.</param>
/// <param name="FinalGravity">Gravity at which it ends if nobody intervenes.</param>
/// <param name="Finish">When it will be within 0.001 of its end; null where that is not in sight.</param>
/// <param name="Fit">The fitted curve through the measured past, in time order.</param>
/// <param name="Futures">Twenty equally likely ways on, by finish; empty when the finish lies behind.</param>
public sealed record GravityForecast(
    EventTime AsOf,
    string EngineVersion,
    Reason? NotYet,
    Quantiles<SpecificGravity> FinalGravity,
    Quantiles<EventTime?> Finish,
    ValueList<CurvePoint> Fit,
    ValueList<FutureCurve> Futures)
{
    /// <summary>Version of what was assumed before any reading.</summary>
    public string Prior { get; init; } = PriorSnapshot.Shipped.Version;

    /// <summary>What else it rests on beside the readings, or why something does not count: own finished batches, a forced test.</summary>
    public ValueList<Reason> Basis { get; init; } = ValueList.Of<Reason>();
}

/// <summary>What the ferment is doing.</summary>
public enum Phase
{
    /// <summary>It cannot be told, for the reason given.</summary>
    Unknown = 0,

    /// <summary>Inoculated, not falling yet.</summary>
    Lag = 1,

    /// <summary>Falling at 30 % of its fastest rate so far, or more.</summary>
    Active = 2,

    /// <summary>Falling below 30 % of its fastest rate so far.</summary>
    Slowing = 3,

    /// <summary>No fall that the readings can show. Says nothing about why.</summary>
    Flat = 4,
}

/// <summary>A phase with its reason.</summary>
/// <param name="Phase">What the ferment is doing.</param>
/// <param name="Because">Why we say so.</param>
/// <param name="RatePerDay">Present fall of gravity a day (positive when falling), or null when unknown.</param>
public sealed record PhaseAssessment(Phase Phase, Reason Because, double? RatePerDay);
