using FermentWatch.Oenology.Quantities;
using MassDensity = FermentWatch.Oenology.Quantities.Density;

namespace FermentWatch.Oenology.Density;

/// <summary>The names that one gravity at 20 °C goes by: specific gravity, points, °Plato, °Brix, kg/m³.</summary>
/// <remarks>
/// Conversions only: they lose nothing but rounding, and going there and back returns the number to 1e-9. Points are thousandths
/// above water. °Brix of a hydrometer is °Plato of the same liquid: the scales differ in history, not in number. A density is
/// divided by that of water at 20 °C, 998.2067 kg/m³ [Tanaka2001]; a device that divides by 998.2 differs by 0.000 007.
/// </remarks>
public static class GravityUnits
{
    /// <summary>Gravity of a liquid of this density at 20 °C. Dimensionless.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The gravity would be outside 0.7 to 1.6.</exception>
    public static SpecificGravity GravityOf(MassDensity densityAt20Celsius) =>
        SpecificGravity.FromRatio(densityAt20Celsius.KilogramsPerCubicMeter / Water.KilogramsPerCubicMeterAt20Celsius);

    /// <summary>Gravity of a liquid that reads so many °Plato. Dimensionless.</summary>
    public static SpecificGravity GravityOf(Plato extract) => SucroseSolution.GravityOf(extract).Value;

    /// <summary>Gravity of a liquid that reads so many °Brix on a hydrometer. Dimensionless.</summary>
    /// <param name="degreesBrix">-12 to 85 °Bx. A refractometer's °Brix is another thing once alcohol is there.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -12 to 85 °Bx.</exception>
    public static SpecificGravity GravityOfBrix(double degreesBrix) =>
        GravityOf(Plato.FromDegrees(QuantityRange.Require(degreesBrix, -12, 85, "extract", "°Bx")));

    /// <summary>Gravity from points, thousandths above water. Dimensionless.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -300 to 600 points.</exception>
    public static SpecificGravity GravityOfPoints(double points) => SpecificGravity.FromPoints(points);

    /// <summary>Density at 20 °C of a liquid of this gravity. [kg/m³]</summary>
    public static MassDensity DensityOf(SpecificGravity gravity) =>
        MassDensity.FromKilogramsPerCubicMeter(gravity.Value * Water.KilogramsPerCubicMeterAt20Celsius);

    /// <summary>°Plato of a liquid of this gravity, held to -12 to 85 °P. [°P]</summary>
    public static Plato PlatoOf(SpecificGravity gravity) => SucroseSolution.PlatoOf(gravity).Value;

    /// <summary>°Brix, by hydrometer, of a liquid of this gravity, held to -12 to 85 °Bx. [°Bx]</summary>
    public static double BrixOf(SpecificGravity gravity) => PlatoOf(gravity).Degrees;

    /// <summary>Points of this gravity, thousandths above water.</summary>
    public static double PointsOf(SpecificGravity gravity) => gravity.Points;
}
