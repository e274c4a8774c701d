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

    // Volume and content of solutions by another program of the same formula.
    [Fact]
    public void ApparentVolumeOfAGram_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "dissolution_volume.csv",
        row => row.Quantity.StartsWith("apparent specific volume", StringComparison.Ordinal),
        rows: 4,
        independentRows: 0,
        row => ApparentMilliliters(row.Input("w_percent")));

    [Fact]
    public void VolumeThatSugarAddsToWater_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "dissolution_volume.csv",
        row => row.Inputs.ContainsKey("sucrose_g"),
        rows: 4,
        independentRows: 0,
        row =>
        {
            var water = DensityAt20(0);
            return row.Input("sucrose_g") * ApparentMilliliters(100 * row.Input("sucrose_g") / (water + row.Input("sucrose_g")));
        });

    [Fact]
    public void SugarInALiter_AgreesWithRowsOfTheSameFormula() => ReferenceCheck.AllAgree(
        "dissolution_volume.csv",
        row => row.Quantity == "sucrose per litre of solution",
        rows: 5,
        independentRows: 0,
        row => SucroseSolution.GramsPerLiterOf(SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("w_percent"))).Value).Value.GramsPerLiter);

    [Fact]
    public void ConcentrateOf68Brix_AgreesWithRowsOfTheSameFormula()
    {
        ReferenceCheck.AllAgree("composition.csv", row => row.Inputs.ContainsKey("w_percent") && row.Unit == "kg/m3", rows: 1, independentRows: 0, row => DensityAt20(row.Input("w_percent")));
        ReferenceCheck.AllAgree(
            "composition.csv",
            row => row.Inputs.ContainsKey("w_percent") && row.Unit == "g/L",
            rows: 1,
            independentRows: 0,
            row => row.Input("w_percent") / 100 * DensityAt20(row.Input("w_percent")));
    }

    // The approximations are not offered. A fit to the table of [NBS440] (RMS 0.0009 °Bx) is another way to that table: the formula stays
    // within 0.022 °Bx of it, the widest gap that was found elsewhere between the two.
    [Fact]
    public void FitToTheOldTable_IsMetWithinItsGap() => Assert.All(Approximations("NBS-fit", 6), row =>
    {
        var sg = row.Input("sg_apparent_20_20");
        ReferenceCheck.Near(row, Cubic(sg, -669.56218, 1262.7794, -775.68212, 182.46007));
        var density = (sg * (DensityAt20(0) - 1.2)) + 1.2;
        Assert.Equal(row.ExpectedNumber, SucroseSolution.PlatoOf(SpecificGravity.FromRatio(density / DensityAt20(0))).Value.Degrees, 0.022);
    });

    // From memory, a sanity check only: three other fits that circulate, with the widest gap of each up to 40 °P.
    [Theory]
    [InlineData("Plato by cubic -616.868", 8, 0.128)]
    [InlineData("Plato by cubic -668.962", 7, 0.061)]
    public void CirculatingFitsFromMemory_AreNear(string name, int rows, double gap) => Assert.All(Approximations(name, rows), row =>
    {
        Assert.Equal("from-memory", row.Status);
        Assert.Equal(row.ExpectedNumber, SucroseSolution.PlatoOf(SpecificGravity.FromRatio(row.Input("sg"))).Value.Degrees, gap);
    });

    [Fact]
    public void CirculatingFitOfGravityFromMemory_IsNear() => Assert.All(Approximations("SG by Lincoln", 5), row =>
        Assert.Equal(row.ExpectedNumber, SucroseSolution.GravityOf(Plato.FromDegrees(row.Input("plato"))).Value.Value, 3.6e-4));

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

    private static List<ReferenceRow> Approximations(string name, int rows)
    {
        var found = ReferenceTable.Read("sg_plato_polynomials.csv").Where(row => row.Quantity.Contains(name, StringComparison.Ordinal)).ToList();
        Assert.Equal(rows, found.Count);
        return found;
    }

    private static double Cubic(double x, params double[] coefficients) => coefficients.Select((coefficient, power) => coefficient * Math.Pow(x, power)).Sum();

    private static double ApparentMilliliters(double percent)
    {
        var w = percent / 100;
        return ((1 / DensityAt20(percent)) - ((1 - w) / DensityAt20(0))) / w * 1000;
    }
}
