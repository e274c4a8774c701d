using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Density;

public sealed class SucroseSolutionTests
{
    [Fact]
    public void RowsOfTheSameFormula_Agree() => ReferenceCheck.AllAgree(
        "sucrose_density.csv", _ => true, rows: 58, independentRows: 0, DensityOfRow);

    [Fact]
    public void HandbookTableAt20Celsius_Agrees() => ReferenceCheck.AllAgree(
        "sucrose_density_crc20.csv", _ => true, rows: 28, independentRows: 28, DensityOfRow);

    // The published table gives gravities weighed in air of 1.2 kg/m³.
    [Fact]
    public void PublishedApparentGravities_Agree() => ReferenceCheck.AllAgree(
        "brix_sg.csv",
        row => row.Quantity.StartsWith("apparent SG", StringComparison.Ordinal),
        rows: 8,
        independentRows: 8,
        row => (DensityAt20(row.Input("brix")) - 1.2) / (DensityAt20(0) - 1.2));

    [Fact]
    public void GravityOfPlato_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "brix_sg.csv",
        row => row.Quantity.StartsWith("true SG", StringComparison.Ordinal) && row.Status == "confirmed",
        rows: 20,
        independentRows: 0,
        row => SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("w_percent"))).Value.Value);

    [Fact]
    public void GravityOfPlato_IsNearTheOldTableFromMemory() => ReferenceCheck.AllAgree(
        "brix_sg.csv",
        row => row.Quantity.StartsWith("true SG", StringComparison.Ordinal) && row.Status == "from-memory",
        rows: 3,
        independentRows: 0,
        row => SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("w_percent"))).Value.Value);

    [Fact]
    public void PlatoOfGravity_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "brix_sg.csv",
        row => row.Quantity.StartsWith("percent sucrose", StringComparison.Ordinal),
        rows: 18,
        independentRows: 0,
        row => SucroseSolution.PlatoOf(SpecificGravity.FromRatio(row.Input("sg_20_20"))).Value.Degrees);

    // Recomputes the density from the copied coefficient list by plain powers: a digit swapped in either place shows.
    [Fact]
    public void EveryCoefficient_IsThatOfTheList()
    {
        var rows = ReferenceTable.Read("sucrose_density_coefficients.csv");
        Assert.Equal(27, rows.Count);
        foreach (var w in (double[])[0, 0.05, 0.2, 0.45, 0.7])
        {
            foreach (var t in (double[])[0, 4, 15.56, 20, 35, 60, 80])
            {
                var numerator = rows.Where(row => row.Quantity.StartsWith("water term numerator", StringComparison.Ordinal))
                    .Sum(row => row.ExpectedNumber * Math.Pow(t, row.Input("power_of_t")));
                var denominator = rows.Single(row => row.Quantity.StartsWith("water term denominator", StringComparison.Ordinal));
                var sugar = rows.Where(row => row.Inputs.ContainsKey("j"))
                    .Sum(row => row.ExpectedNumber * Math.Pow(w, row.Input("j")) * Math.Pow((t - 20) / 100, row.Input("i")));
                Assert.Equal(
                    (numerator / (1 + (denominator.ExpectedNumber * t))) + sugar,
                    SucroseSolution.DensityOf(Plato.FromDegrees(100 * w), Temperature.FromCelsius(t)).Value.KilogramsPerCubicMeter,
                    9);
            }
        }
    }

    [Property(MaxTest = 500)]
    public Property PlatoToGravityAndBack_ReturnsTheNumber() => Prop.ForAll(
        Numbers.Between(-11.9, 84.9).ToArbitrary(),
        degrees => Math.Abs(SucroseSolution.PlatoOf(SucroseSolution.GravityOf(Plato.FromDegrees(degrees)).Value).Value.Degrees - degrees)
            < 1e-9);

    [Property(MaxTest = 500)]
    public Property MoreSugar_IsHeavierAndHoldsMoreGramsPerLiter() => Prop.ForAll(
        Numbers.Between(-9, 84).ToArbitrary(),
        Numbers.Between(0.0001, 1).ToArbitrary(),
        (degrees, more) =>
        {
            var thinner = SucroseSolution.GravityOf(Plato.FromDegrees(degrees)).Value;
            var richer = SucroseSolution.GravityOf(Plato.FromDegrees(Math.Min(degrees + more, 85))).Value;
            return richer > thinner
                && SucroseSolution.GramsPerLiterOf(richer).Value > SucroseSolution.GramsPerLiterOf(thinner).Value;
        });

    [Fact]
    public void EveryGravityThatCanBeBuilt_HasAnAnswer()
    {
        var seventyDegrees = SucroseSolution.GravityOf(Plato.FromDegrees(70)).Value.Value;
        for (var ratio = SpecificGravity.Lowest; ratio <= SpecificGravity.Highest; ratio += 0.001)
        {
            var gravity = SpecificGravity.FromRatio(ratio);
            var plato = SucroseSolution.PlatoOf(gravity);
            var within = ratio >= 1 && ratio <= seventyDegrees;
            Assert.Equal(within ? Validity.WithinSource : Validity.Extrapolated, plato.Validity);
            Assert.Equal(plato.Validity, SucroseSolution.GramsPerLiterOf(gravity).Validity);
        }
    }

    [Fact]
    public void Water_HasNoExtract()
    {
        var water = SpecificGravity.FromRatio(1);
        Assert.Equal(0, SucroseSolution.PlatoOf(water).Value.Degrees, 12);
        Assert.Equal(0, SucroseSolution.GramsPerLiterOf(water).Value.GramsPerLiter, 9);
    }

    private static double DensityOfRow(ReferenceRow row) => SucroseSolution
        .DensityOf(Plato.FromDegrees(row.Input("w_percent")), Temperature.FromCelsius(row.Input("t_C")))
        .Value.KilogramsPerCubicMeter;

    private static double DensityAt20(double degrees) =>
        SucroseSolution.DensityOf(Plato.FromDegrees(degrees), Temperature.FromCelsius(20)).Value.KilogramsPerCubicMeter;
}
