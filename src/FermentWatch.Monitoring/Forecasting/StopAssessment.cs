namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Why a ferment that rests with sugar left does so, as far as the readings tell.</summary>
public enum StopCause
{
    /// <summary>It does not rest, or it rests where a ferment of its kind ends.</summary>
    None = 0,

    /// <summary>It was too cold for the yeast.</summary>
    Cold = 1,

    /// <summary>It was too hot for the yeast.</summary>
    Hot = 2,

    /// <summary>It slowed down early and long before the alcohol could be the reason: most often too little nitrogen.</summary>
    Nitrogen = 3,

    /// <summary>The alcohol is near what the yeast bears.</summary>
    Tolerance = 4,

    /// <summary>The readings do not tell.</summary>
    Unknown = 5,
}

/// <summary>Whether a ferment has come to rest, and whether that is its end. Odds from 0 to 1.</summary>
/// <param name="Resting">That gravity falls no more than <see cref="StopJudge.RestPerDay"/>.</param>
/// <param name="Stuck">That it rests before its end: with sugar left that the yeast could have used.</param>
/// <param name="Finished">That it rests at its end.</param>
/// <param name="Cause">The likely cause when it is stuck.</param>
/// <param name="IsReadyToStabilize">That it is finished and hardly anything is left to fall. Bottling never follows from this.</param>
public sealed record StopAssessment(double Resting, double Stuck, double Finished, StopCause Cause, bool IsReadyToStabilize)
{
    /// <summary>Nothing is known yet.</summary>
    public static StopAssessment Unknown { get; } = new(0, 0, 0, StopCause.None, false);

    /// <summary>Whether it is to be treated as stuck.</summary>
    public bool IsStuck => Stuck >= StopJudge.StuckFrom;

    /// <summary>Whether 'finished' is the likeliest.</summary>
    public bool IsFinished => Finished > 0.5;
}
