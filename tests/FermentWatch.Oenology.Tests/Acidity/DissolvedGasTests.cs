using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Acidity;

public sealed class DissolvedGasTests
{
    // By hand: 1.46 g/L is 33.2 mmol/L; at pH 8.2 nearly one charge each, 33 meq/L or 2.5 g/L as tartaric; at pH 7.0 about four fifths of it.
    [Fact]
    public void GasOfAFullWine_CountsAsAcid()
    {
        var gas = MassConcentration.FromGramsPerLiter(1.46);
        var toEight = DissolvedGas.CountsAs(gas, TitrationEndPoint.EightPointTwo, AlcoholByVolume.FromPercent(0));
        var toSeven = DissolvedGas.CountsAs(gas, TitrationEndPoint.Seven, AlcoholByVolume.FromPercent(0));
        Assert.Equal(2.5, toEight.GramsPerLiter(AcidBasis.Tartaric), 0.1);
        Assert.InRange(toSeven.MilliequivalentsPerLiter / toEight.MilliequivalentsPerLiter, 0.75, 0.9);
        Assert.Equal(0, DissolvedGas.CountsAs(MassConcentration.None, TitrationEndPoint.Seven, AlcoholByVolume.FromPercent(12)).MilliequivalentsPerLiter);
    }
}
