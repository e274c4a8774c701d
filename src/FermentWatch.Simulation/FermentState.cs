namespace FermentWatch.Simulation;

/// <summary>What moves in a ferment, for a liter of the must at inoculation.</summary>
/// <param name="Consumed">Sugar consumed since inoculation. [g]</param>
/// <param name="Nitrogen">Nitrogen that yeast can use. [g]</param>
/// <param name="Yeast">Viable yeast, dry. [g]</param>
/// <param name="Readiness">Logarithm of the yeast's readiness: far below 0 in the lag, far above after it.</param>
/// <param name="Celsius">Temperature of the must. [°C]</param>
internal readonly record struct FermentState(double Consumed, double Nitrogen, double Yeast, double Readiness, double Celsius)
{
    public FermentState Plus(FermentState slope, double hours) => new(
        Consumed + (slope.Consumed * hours),
        Nitrogen + (slope.Nitrogen * hours),
        Yeast + (slope.Yeast * hours),
        Readiness + (slope.Readiness * hours),
        Celsius + (slope.Celsius * hours));
}
