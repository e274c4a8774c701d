using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class SupplenessIndexTests
{
    [Fact]
    public void Index_AgreesWithTheRow() => ReferenceCheck.AllAgree(
        "ranges-and-balance.csv",
        row => row.Inputs.ContainsKey("tannin_g_per_L"),
        rows: 1,
        independentRows: 0,
        row => SupplenessIndex.Of(
            AlcoholByVolume.FromPercent(row.Input("abv_percent")),
            TitratableAcidity.FromGramsPerLiter(row.Input("ta_g_per_L_sulfuric"), AcidBasis.Sulfuric),
            MassConcentration.FromGramsPerLiter(row.Input("tannin_g_per_L"))),
        _ => false);
}
