using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Density;

public sealed class EthanolSolutionTests
{
    [Fact]
    public void RowsOfTheSameFormulaByMass_Agree() => ReferenceCheck.AllAgree(
        "ethanol_density.csv", row => row.Inputs.ContainsKey("p_mass_percent"), rows: 33, independentRows: 0, DensityByMass);

    [Fact]
    public void RowsOfTheSameFormulaByVolume_Agree() => ReferenceCheck.AllAgree(
        "ethanol_density.csv",
        row => row.Inputs.ContainsKey("t_C") && row.Inputs.ContainsKey("q_abv20_percent"),
        rows: 49,
        independentRows: 0,
        row => EthanolSolution.DensityOf(
            AlcoholByVolume.FromPercent(row.Input("q_abv20_percent")),
            Temperature.FromCelsius(row.Input("t_C"))).Value.KilogramsPerCubicMeter);

    [Fact]
    public void MassFractionOfStrength_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "ethanol_density.csv",
        row => row.Quantity.StartsWith("mass fraction", StringComparison.Ordinal),
        rows: 7,
        independentRows: 0,
        row => 100 * EthanolSolution.MassFractionOf(AlcoholByVolume.FromPercent(row.Input("q_abv20_percent"))));

    [Fact]
    public void HandbookTableAt20Celsius_Agrees() => ReferenceCheck.AllAgree(
        "ethanol_density_tables.csv", row => row.Inputs.ContainsKey("t_C"), rows: 19, independentRows: 19, DensityByMass);

    // The pharmacopeia's table is weighed in air of 1.2 kg/m³ at 15.56 °C.
    [Fact]
    public void PharmacopeiaTable_Agrees() => ReferenceCheck.AllAgree(
        "ethanol_density_tables.csv",
        row => !row.Inputs.ContainsKey("t_C"),
        rows: 11,
        independentRows: 11,
        row => (AtMass(row.Input("p_mass_percent"), 15.56) - 1.2) / (AtMass(0, 15.56) - 1.2));

    [Fact]
    public void MixtureOfTwoVolumes_HasTheStrengthAndVolumeOfTheTable()
    {
        var ethanol = AtMass(100, 20);
        var water = AtMass(0, 20);
        double Mass(ReferenceRow row) => (row.Input("v_ethanol_mL") * ethanol) + (row.Input("v_water_mL") * water);
        double Fraction(ReferenceRow row) => row.Input("v_ethanol_mL") * ethanol / Mass(row);

        ReferenceCheck.AllAgree(
            "mixing_contraction.csv",
            row => row.Unit == "mL",
            rows: 5,
            independentRows: 0,
            row => Mass(row) / AtMass(100 * Fraction(row), 20));
        ReferenceCheck.AllAgree(
            "mixing_contraction.csv",
            row => row.Unit == "% vol",
            rows: 5,
            independentRows: 0,
            row => EthanolSolution.AlcoholOf(Fraction(row)).Percent);
    }

    // Recomputes the density from the copied coefficient list by plain powers: a digit swapped in either place shows.
    [Fact]
    public void EveryCoefficient_IsThatOfTheList()
    {
        var rows = ReferenceTable.Read("ethanol_density_coefficients.csv");
        Assert.Equal(54, rows.Count);
        foreach (var p in (double[])[0, 0.05, 0.12, 0.3, 0.55, 0.8, 1])
        {
            foreach (var celsius in (double[])[-20, -5, 0, 12, 20, 27, 40])
            {
                var sum = rows.Sum(row =>
                {
                    var a = row.ExpectedNumber;
                    return row.Quantity[0] switch
                    {
                        'A' => a * Math.Pow(p, row.Input("k") - 1),
                        'B' => a * Math.Pow(celsius - 20, row.Input("k")),
                        _ => a * Math.Pow(p, row.Input("k")) * Math.Pow(celsius - 20, row.Input("i")),
                    };
                });
                Assert.Equal(sum, AtMass(100 * p, celsius), 7);
            }
        }
    }

    [Property(MaxTest = 500)]
    public Property StrengthToMassFractionAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(0, 100).ToArbitrary(),
        percent => Math.Abs(
            EthanolSolution.AlcoholOf(EthanolSolution.MassFractionOf(AlcoholByVolume.FromPercent(percent))).Percent - percent) < 1e-9);

    [Property(MaxTest = 500)]
    public Property StrongerMixture_IsLighter() => Prop.ForAll(
        Numbers.Between(0, 99).ToArbitrary(),
        Numbers.Between(0.001, 1).ToArbitrary(),
        (percent, more) => EthanolSolution.GravityOf(AlcoholByVolume.FromPercent(percent + more)).Value
            < EthanolSolution.GravityOf(AlcoholByVolume.FromPercent(percent)).Value);

    [Fact]
    public void MassFractionAboveOne_NamesValueAndBounds()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(
            () => EthanolSolution.DensityAtMassFraction(1.2, Temperature.FromCelsius(20)));
        Assert.Contains("mass fraction of ethanol is 1.2 g/g; it must be from 0 to 1 g/g.", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-21, Validity.Extrapolated)]
    [InlineData(-20, Validity.WithinSource)]
    [InlineData(40, Validity.WithinSource)]
    [InlineData(41, Validity.Extrapolated)]
    public void TemperatureBeyondTheSource_IsMarked(double celsius, Validity expected) => Assert.Equal(
        expected, EthanolSolution.DensityOf(AlcoholByVolume.FromPercent(12), Temperature.FromCelsius(celsius)).Validity);

    private static double DensityByMass(ReferenceRow row) => AtMass(row.Input("p_mass_percent"), row.Input("t_C"));

    private static double AtMass(double percent, double celsius) => EthanolSolution
        .DensityAtMassFraction(percent / 100, Temperature.FromCelsius(celsius)).Value.KilogramsPerCubicMeter;
}
