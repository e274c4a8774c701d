namespace FermentWatch.Simulation;

/// <summary>What a simulated sensor sent.</summary>
/// <param name="HoursSinceInoculation">Stamp of the device's own clock, which may be wrong for a while. [h]</param>
/// <param name="SpecificGravity">Gravity as sent, faults and all; null where the message lacks it. It may be a number that no liquid has.</param>
/// <param name="Celsius">Temperature as sent; null where the message lacks it. [°C]</param>
public sealed record SimulatedReading(double HoursSinceInoculation, double? SpecificGravity, double? Celsius)
{
    /// <summary>When it arrived, by a clock that is right. Never falls from one reading to the next. [h]</summary>
    public required double ArrivedHours { get; init; }

    /// <summary>Which device sent it: 0, or 1 for the one that took over.</summary>
    public int Device { get; init; }

    /// <summary>Whether this is a second delivery of the same message by the broker.</summary>
    public bool Redelivered { get; init; }
}
