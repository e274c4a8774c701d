using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>A simulated ferment over 120 days: what truly happened, and what the sensor said.</summary>
public sealed class SimulatedFerment
{
    /// <summary>Length of the truth. [h]</summary>
    public const double TruthHours = 120 * 24;

    private readonly FermentCourse _course;
    private readonly Lazy<IReadOnlyList<TruthPoint>> _truth;

    internal SimulatedFerment(FermentScenario scenario, FermentCourse course, IReadOnlyList<SimulatedReading> readings)
    {
        Scenario = scenario;
        _course = course;
        Readings = readings;
        _truth = new(() => [.. Enumerable.Range(0, (int)TruthHours + 1).Select(hour => TruthAt(hour))]);
        FinalGravity = TruthAt(TruthHours).Gravity;
    }

    /// <summary>What decided it.</summary>
    public FermentScenario Scenario { get; }

    /// <summary>Everything the sensor sent, in the order of arrival.</summary>
    public IReadOnlyList<SimulatedReading> Readings { get; }

    /// <summary>The truth at every full hour.</summary>
    public IReadOnlyList<TruthPoint> Truth => _truth.Value;

    /// <summary>True gravity 120 days after inoculation, everything that happened included.</summary>
    public SpecificGravity FinalGravity { get; }

    /// <summary>How it ended.</summary>
    public FermentOutcome Outcome
    {
        get
        {
            var end = TruthAt(TruthHours);
            return end.Sugar.GramsPerLiter <= 8 ? FermentOutcome.Complete
                : end.Alcohol.Percent >= 0.94 * Scenario.Yeast.Tolerance.Percent ? FermentOutcome.StoppedAtTolerance
                : FermentOutcome.Arrested;
        }
    }

    /// <summary>Hours at which half of all sugar that will ever be consumed is consumed.</summary>
    public double HoursAtHalf => HoursAtShare(0.5);

    /// <summary>Hours at which 70 % of all sugar that will ever be consumed is consumed.</summary>
    public double HoursAtSeventyPercent => HoursAtShare(0.7);

    /// <summary>Hours at which 90 % of all sugar that will ever be consumed is consumed.</summary>
    public double HoursAtNinetyPercent => HoursAtShare(0.9);

    /// <summary>Hours from which on the gravity is within 0.001 of <see cref="FinalGravity"/> for good.</summary>
    public double FinishHours => _course.HoursUntilWithin(0.001);

    /// <summary>Hours at which a share of all sugar that will ever be consumed is consumed.</summary>
    /// <param name="share">0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The share is outside 0 to 1.</exception>
    public double HoursAtShare(double share)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(share, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(share, 1);
        return _course.HoursAtShare(share);
    }

    /// <summary>The truth at a moment, from steps of a quarter of an hour.</summary>
    /// <param name="hours">Hours since inoculation; held to 0 to 2880.</param>
    public TruthPoint TruthAt(double hours) => _course.At(hours);

    /// <summary>Masses at a moment, for a liter of the must at inoculation.</summary>
    /// <param name="hours">Hours since inoculation; held to 0 to 2880.</param>
    public LiquidMasses MassesAt(double hours) => _course.MassesAt(hours);

    /// <summary>
    /// True gravity 120 days after inoculation if nothing that begins after a moment were done: no addition, no change of the room.
    /// Runs the ferment once more.
    /// </summary>
    /// <param name="hours">Hours since inoculation.</param>
    public SpecificGravity FinalGravityIfLeftAloneAfter(double hours) =>
        FermentCourse.Of(Scenario.LeftAloneAfter(hours)).At(TruthHours).Gravity;
}
