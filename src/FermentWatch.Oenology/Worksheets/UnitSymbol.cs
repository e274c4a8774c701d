namespace FermentWatch.Oenology.Worksheets;

/// <summary>A unit that a number may be given in, with the way to the kept unit and back.</summary>
/// <param name="Symbol">What stands behind the number, such as "gal".</param>
/// <param name="ToKept">From this unit to the kept one.</param>
/// <param name="FromKept">From the kept unit to this one.</param>
public sealed record UnitSymbol(string Symbol, Func<double, double> ToKept, Func<double, double> FromKept)
{
    /// <summary>The kept unit itself, or another way to write it.</summary>
    public static UnitSymbol Kept(string symbol) => new(symbol, given => given, kept => kept);
}
