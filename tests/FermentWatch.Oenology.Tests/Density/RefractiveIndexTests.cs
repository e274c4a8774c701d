using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Density;

/// <summary>Three numbers were fitted to the handbook's columns: the 22 rows hold the fit to its rounding, and none counts as independent.</summary>
public sealed class RefractiveIndexTests
{
    [Fact]
    public void HandbookColumnOfSucrose_Agrees() => ReferenceCheck.AllAgree(
        "refractometer.csv", row => row.Inputs.ContainsKey("w_percent"), rows: 12, independentRows: 0,
        row => RefractiveIndex.OfSucrose(row.Input("w_percent") / 100),
        independent: _ => false);

    [Fact]
    public void HandbookColumnOfEthanol_Agrees() => ReferenceCheck.AllAgree(
        "refractometer.csv", row => row.Inputs.ContainsKey("p_mass_percent"), rows: 10, independentRows: 0,
        row => RefractiveIndex.Of(
            0,
            row.Input("p_mass_percent") / 100,
            EthanolSolution.DensityAtMassFraction(row.Input("p_mass_percent") / 100, Temperature.FromCelsius(20)).Value.KilogramsPerCubicMeter),
        independent: _ => false);

    [Property(MaxTest = 300)]
    public Property IndexOfASolutionAndBack_ReturnsItsBrix() => Prop.ForAll(
        Numbers.Between(0, 84).ToArbitrary(),
        brix => Math.Abs(RefractiveIndex.BrixOf(RefractiveIndex.OfSucrose(brix / 100)) - brix) < 1e-9);
}
