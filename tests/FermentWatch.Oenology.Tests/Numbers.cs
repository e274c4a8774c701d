using FsCheck;
using FsCheck.Fluent;

namespace FermentWatch.Oenology.Tests;

/// <summary>Evenly spread numbers for property tests; a failing run prints its seed.</summary>
internal static class Numbers
{
    public static Gen<double> Between(double low, double high) =>
        Gen.Choose(0, 1_000_000).Select(step => low + ((high - low) * step / 1_000_000));
}
