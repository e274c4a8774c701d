using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>The unit in which a reader types and reads a quantity of a worksheet.</summary>
/// <param name="Symbol">What stands behind the number; empty for none.</param>
/// <param name="Unit">The way to the unit that the worksheet keeps, and back.</param>
/// <param name="MoreDigits">Digits after the point beyond those of the kept unit, so that nothing that a scale can show is lost.</param>
internal sealed record SheetUnit(string Symbol, UnitSymbol Unit, int MoreDigits)
{
    /// <summary>By what the reader chose; a quantity without a choice stays in the kept unit.</summary>
    public static SheetUnit Of(QuantityKind kind, Units units)
    {
        if (kind == QuantityKind.Gravity && units.Gravity != GravityUnit.SpecificGravity)
        {
            return Taken(kind, units.Gravity == GravityUnit.Plato ? "°P" : "°Bx", -2);
        }

        if ((kind == QuantityKind.Temperature || kind == QuantityKind.TemperatureDifference) && units.Temperature == TemperatureUnit.Fahrenheit)
        {
            return Taken(kind, "°F", 0);
        }

        if (kind == QuantityKind.Volume && units.Volume == VolumeUnit.UsGallons)
        {
            return Taken(kind, "gal", 1);
        }

        if (kind == QuantityKind.Mass && units.Mass == MassUnit.Ounces)
        {
            return Taken(kind, "oz", 2);
        }

        return kind == QuantityKind.LargeMass && units.Mass == MassUnit.Ounces ? Taken(kind, "lb", 0) : Taken(kind, kind.Symbol, 0);
    }

    /// <summary>Half-width of an error around a kept value, in this unit.</summary>
    public double Error(double kept, double tolerance) => Math.Abs(Unit.FromKept(kept + tolerance) - Unit.FromKept(kept - tolerance)) / 2;

    private static SheetUnit Taken(QuantityKind kind, string symbol, int moreDigits) => new(symbol, kind.Units.First(unit => unit.Symbol == symbol), moreDigits);
}
