using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sorbate;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Sorbate;

public sealed class SorbateTests
{
    [Fact]
    public void Masses_AgreeWithAtomicMasses() => ReferenceCheck.AllAgree(
        "sorbate.csv",
        row => row.Inputs.Count == 0 && row.Tolerance != "-",
        rows: 3,
        independentRows: 0,
        row => row.Quantity switch
        {
            "molar mass sorbic acid" => PotassiumSorbate.SorbicAcidGramsPerMole,
            "molar mass potassium sorbate" => PotassiumSorbate.GramsPerMole,
            _ => PotassiumSorbate.SorbicAcidShare,
        });

    [Fact]
    public void SorbicAcidDelivered_AgreesWithTheRows() => ReferenceCheck.AllAgree(
        "sorbate.csv",
        row => row.Inputs.ContainsKey("potassium_sorbate_mg_per_L"),
        rows: 5,
        independentRows: 0,
        row => PotassiumSorbate.SorbicAcidOf(MassConcentration.FromMilligramsPerLiter(row.Input("potassium_sorbate_mg_per_L"))).MilligramsPerLiter,
        _ => false);

    // The table itself is what is shipped: this checks the copy.
    [Fact]
    public void PublishedTable_IsReproduced() => ReferenceCheck.AllAgree(
        "sorbate.csv",
        row => row.Quantity.StartsWith("potassium sorbate dose", StringComparison.Ordinal),
        rows: 25,
        independentRows: 0,
        row => SorbateTable.DoseFor(AlcoholByVolume.FromPercent(row.Input("abv_percent")), Ph.FromValue(row.Input("pH")))!.Value.Value.MilligramsPerLiter,
        _ => false);

    [Fact]
    public void TopCornerOfTheTable_IsJustAboveTheEuropeanLimit() => ReferenceCheck.AllAgree(
        "sorbate.csv",
        row => row.Quantity.StartsWith("highest published table dose", StringComparison.Ordinal),
        rows: 1,
        independentRows: 0,
        row => PotassiumSorbate.SorbicAcidOf(SorbateTable.DoseFor(AlcoholByVolume.FromPercent(row.Input("abv_percent")), Ph.FromValue(row.Input("pH")))!.Value.Value).MilligramsPerLiter,
        _ => false);

    // Half-way between four printed points, by hand: (150 + 180 + 105 + 120)/4.
    [Fact]
    public void BetweenThePoints_TheDoseIsLinear()
    {
        var dose = SorbateTable.DoseFor(AlcoholByVolume.FromPercent(11.5), Ph.FromValue(3.25))!.Value;
        Assert.Equal(138.75, dose.Value.MilligramsPerLiter, 1e-6);
        Assert.Equal(3, dose.Tolerance);
    }

    // Peynaud's doses by alcohol, from memory: the same direction, and each within the span of the table's row, as sorbic acid, or near it.
    [Fact]
    public void RememberedDosesByAlcohol_FallLikeTheTable()
    {
        var remembered = ReferenceTable.Read("sorbate.csv").Where(row => row.Status == "from-memory").ToList();
        Assert.Equal(5, remembered.Count);
        Assert.All(remembered, row =>
        {
            var alcohol = AlcoholByVolume.FromPercent(row.Input("abv_percent"));
            double SorbicAt(double ph) => PotassiumSorbate.SorbicAcidOf(SorbateTable.DoseFor(alcohol, Ph.FromValue(ph))!.Value.Value).MilligramsPerLiter;
            Assert.InRange(row.ExpectedNumber, SorbicAt(3.1) - 15, SorbicAt(3.5) + 15);
        });
    }

    [Theory]
    [InlineData("LIM-legal-limits-012", Law.Oiv)]
    [InlineData("LIM-legal-limits-013", Law.Eu)]
    [InlineData("LIM-legal-limits-014", Law.Us)]
    public void Limit_IsTheReadBound(string id, Law law) => Assert.Equal(
        Assert.Single(ReferenceTable.Read("legal-limits.csv"), row => row.Id == id).ExpectedNumber,
        SorbateAdvice.SorbicAcidLimit(law).MilligramsPerLiter);

    [Property(MaxTest = 300)]
    public Property SorbateToAcidAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0, 500).ToArbitrary(),
        dose => Math.Abs(PotassiumSorbate.ForSorbicAcid(PotassiumSorbate.SorbicAcidOf(MassConcentration.FromMilligramsPerLiter(dose))).MilligramsPerLiter - dose) < 1e-9);

    [Property(MaxTest = 300)]
    public Property MoreAlcoholOrLowerPh_NeedsLess() => Prop.ForAll(
        Numbers.Between(10, 13.9).ToArbitrary(),
        Numbers.Between(3.1, 3.49).ToArbitrary(),
        (alcohol, ph) =>
        {
            var dose = SorbateTable.DoseFor(AlcoholByVolume.FromPercent(alcohol), Ph.FromValue(ph))!.Value.Value;
            return SorbateTable.DoseFor(AlcoholByVolume.FromPercent(alcohol + 0.1), Ph.FromValue(ph))!.Value.Value < dose
                && SorbateTable.DoseFor(AlcoholByVolume.FromPercent(alcohol), Ph.FromValue(ph + 0.01))!.Value.Value > dose;
        });

    [Theory]
    [InlineData(9.9, 3.3, SorbateVerdict.WillNotHold)]
    [InlineData(12, 3.51, SorbateVerdict.WillNotHold)]
    [InlineData(14.1, 3.3, SorbateVerdict.BeyondTable)]
    [InlineData(12, 3.09, SorbateVerdict.BeyondTable)]
    [InlineData(14.1, 3.6, SorbateVerdict.WillNotHold)]
    public void OutsideTheTable_ThereIsNoDose(double alcohol, double ph, SorbateVerdict expected)
    {
        var decision = Decide(alcohol, ph, law: Law.Us);
        Assert.Equal(expected, decision.Verdict);
        Assert.Null(decision.PotassiumSorbate);
    }

    [Fact]
    public void DoseAboveTheLimit_IsRefusedAndNotCutDown()
    {
        foreach (var law in new[] { Law.Strictest, Law.Eu, Law.Oiv })
        {
            var decision = Decide(10, 3.5, law: law);
            Assert.Equal(SorbateVerdict.AboveLimit, decision.Verdict);
            Assert.Equal(270, decision.PotassiumSorbate!.Value.Value.MilligramsPerLiter, 1e-9);
        }

        Assert.Equal(SorbateVerdict.Dose, Decide(10, 3.5, law: Law.Us).Verdict);
        Assert.Equal(SorbateVerdict.Dose, Decide(12, 3.3).Verdict);
    }

    [Theory]
    [InlineData(true, MalolacticStatus.Prevented, SorbateVerdict.RefusedActiveFerment)]
    [InlineData(true, MalolacticStatus.Living, SorbateVerdict.RefusedActiveFerment)]
    [InlineData(false, MalolacticStatus.Living, SorbateVerdict.RefusedLivingBacteria)]
    [InlineData(false, MalolacticStatus.Unknown, SorbateVerdict.RefusedBacteriaUnknown)]
    [InlineData(false, MalolacticStatus.FinishedAndSulfited, SorbateVerdict.Dose)]
    public void YeastOrBacteriaAtWork_AreRefusedBeforeAnything(bool active, MalolacticStatus malolactic, SorbateVerdict expected)
    {
        var decision = SorbateAdvice.Decide(AlcoholByVolume.FromPercent(12), Ph.FromValue(3.3), active, malolactic, Law.Eu);
        Assert.Equal(expected, decision.Verdict);
        Assert.Equal(expected is SorbateVerdict.Dose, decision.PotassiumSorbate is not null);
    }

    private static SorbateDecision Decide(double alcohol, double ph, Law law = Law.Strictest) =>
        SorbateAdvice.Decide(AlcoholByVolume.FromPercent(alcohol), Ph.FromValue(ph), false, MalolacticStatus.Prevented, law);
}
