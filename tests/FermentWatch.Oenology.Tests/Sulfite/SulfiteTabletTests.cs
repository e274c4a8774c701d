using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests.Sulfite;

public sealed class SulfiteTabletTests
{
    // From memory: a tablet of 0.44 g. Strengths differ, so it is only an example of a stated one.
    [Fact]
    public void StatedTablet_GivesTheRow() => ReferenceCheck.AllAgree(
        "additions-and-strength.csv",
        row => row.Inputs.ContainsKey("tablets"),
        rows: 1,
        independentRows: 0,
        row => SulfiteTablet.OfSalt(0.44, SulfiteSalt.Potassium).AdditionOf(row.Input("tablets"), Volume.FromLiters(row.Input("volume_L"))).MilligramsPerLiter);

    [Fact]
    public void LabelOrSalt_CountTheSame()
    {
        var tablet = SulfiteTablet.OfLabel(MassConcentration.FromMilligramsPerLiter(50), Volume.FromLiters(4.5));
        Assert.Equal(225, tablet.SulfurDioxideMilligrams, 1e-9);
        Assert.Equal(4, tablet.CountFor(MassConcentration.FromMilligramsPerLiter(45), Volume.FromLiters(20)), 1e-9);
        Assert.Equal(45, tablet.AdditionOf(4, Volume.FromLiters(20)).MilligramsPerLiter, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => SulfiteTablet.OfSalt(0, SulfiteSalt.Potassium));
    }
}
