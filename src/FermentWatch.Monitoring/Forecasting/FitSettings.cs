namespace FermentWatch.Monitoring.Forecasting;

/// <summary>How a fit is weighted and when it stops. It stops by iterations, never by a clock.</summary>
public sealed record FitSettings
{
    /// <summary>Most iterations, at least 1.</summary>
    public int MaxIterations { get; init; } = 200;

    /// <summary>Stops when no parameter moves by more than this part of itself.</summary>
    public double StepTolerance { get; init; } = 1e-12;

    /// <summary>Stops when the cost falls by less than this, in units of the cost; 0 leaves it to the step.</summary>
    public double CostTolerance { get; init; }

    /// <summary>Number of leading rows under the robust loss; the rest (prior rows) are squared.</summary>
    public int RobustRows { get; init; }

    /// <summary>Degrees of freedom of the Student-t loss; 4 keeps 92.6 % efficiency on normal noise.</summary>
    public double DegreesOfFreedom { get; init; } = 4;

    /// <summary>Weight of a robust row, from 0 to 1: less than 1 where noise is correlated.</summary>
    public double Temper { get; init; } = 1;

    /// <summary>Damping of the first step, as a part of the scaled normal matrix's unit diagonal: small where the start is good.</summary>
    public double FirstDamping { get; init; } = 1e-3;

    /// <summary>What at least remains of the damping after a step that fell as far as was predicted, more than 0 and less than 1.</summary>
    public double LeastRelief { get; init; } = 1 / 3.0;

    /// <summary>Ordinary least squares without any robust row, from a start that may be far off: a careful first step, then in a hurry.</summary>
    /// <remarks>
    /// Against the other values of damping and relief this takes a third fewer iterations from the first starts of the certified problems, and as
    /// many from the second. A first damping of 0.3 and more sometimes finds the three terms of Lanczos' problems in another order.
    /// </remarks>
    public static FitSettings Plain { get; } = new() { FirstDamping = 0.1, LeastRelief = 0.1 };
}

/// <summary>How a fit ended.</summary>
/// <param name="Cost">The cost at the end: sum of squares, robust rows by their loss.</param>
/// <param name="Iterations">Iterations used.</param>
/// <param name="Converged">False when the iterations ran out.</param>
public readonly record struct FitOutcome(double Cost, int Iterations, bool Converged);
