using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What the two liquids of a square differ in.</summary>
internal enum SquareOf
{
    Brix,
    Alcohol,
    GramsPerLiter,
}

/// <summary>Two liquids to one between them.</summary>
internal static class PearsonSquareEntry
{
    private static readonly ChoiceInput<SquareOf> Measure = new("measure", "What they differ in", [
        (SquareOf.Brix, "extract, in °Brix (without alcohol)"),
        (SquareOf.Alcohol, "alcohol, in % vol"),
        (SquareOf.GramsPerLiter, "grams in a liter: acid, sugar, tannin")]);

    private static readonly NumberInput Rich = new("rich", "The richer one", QuantityKind.Ratio, 0, 1000, Help: "°Brix up to 85, % vol up to 100.");
    private static readonly NumberInput Poor = new("poor", "The poorer one", QuantityKind.Ratio, 0, 1000, Help: "Water is 0.");
    private static readonly NumberInput Target = new("target", "What is wanted between them", QuantityKind.Ratio, 0, 1000);
    private static readonly NumberInput Volume = new("blend-volume", "Volume wanted", QuantityKind.Volume, 0.01, 10_000, 10);

    private static readonly NumberOutput RichParts = new("rich-parts", "Parts of the richer", QuantityKind.Ratio, 2);
    private static readonly NumberOutput PoorParts = new("poor-parts", "Parts of the poorer", QuantityKind.Ratio, 2);
    private static readonly NumberOutput RichVolume = new("rich-volume", "Volume of the richer", QuantityKind.Volume, 2);
    private static readonly NumberOutput PoorVolume = new("poor-volume", "Volume of the poorer", QuantityKind.Volume, 2);
    private static readonly NumberOutput RichMass = new("rich-mass", "Mass of the richer", QuantityKind.LargeMass, 2);
    private static readonly NumberOutput PoorMass = new("poor-mass", "Mass of the poorer", QuantityKind.LargeMass, 2);
    private static readonly TextOutput Basis = new("parts-by", "The parts are");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "pearson-square",
        Subject = WorksheetSubject.Blending,
        Title = "Two liquids to one between them: Pearson's square",
        Purpose = "How much of a richer and of a poorer one make what lies between. °Brix are parts by mass: taken by volume the square is wrong. The volumes are reckoned by mass, with what alcohol and water contract.",
        Inputs = [Measure, Rich, Poor, Target, Volume],
        Outputs = [Basis, RichParts, PoorParts, RichVolume, PoorVolume, RichMass, PoorMass],
        Sources = [WorksheetSource.Computed("balance of mass; the square itself is a textbook rule"), WorksheetSource.Published("Bubnik1995", "density of sucrose solutions"), WorksheetSource.Published("OIMLR22", "density of ethanol and water")],
        Cautions = [Caution.BottlePressure, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("measure=brix rich=65 poor=12 target=24 blend-volume=10", "textbook rule, 12 : 41 by mass; by hand 11.009 kg of 24 °Bx, of it 12/53", new("rich-parts", 12, 1e-9), new("poor-parts", 41, 1e-9), new("rich-mass", 2.4906, 0.003), ExpectedResult.Words("parts-by", "by mass")),
            WorkedExample.Of("measure=alcohol rich=96 poor=12 target=16.266 blend-volume=19.9187", "computed by a second program from OIML R 22: 1 L of 96 % vol and 19 L of 12 % vol", new("rich-volume", 1.0, 0.003), new("poor-volume", 19.0, 0.004)),
            WorkedExample.Of("measure=grams-per-liter rich=9 poor=5 target=6 blend-volume=20", "by hand: 1 : 3", new("rich-volume", 5, 1e-9), new("poor-volume", 15, 1e-9)),
            WorkedExample.Saying("measure=brix rich=22 poor=12 target=24", "24 is not between 12 and 22", "not-between"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var measure = values.Of(Measure);
        var highest = measure switch { SquareOf.Brix => 85.0, SquareOf.Alcohol => 100, _ => 1000 };
        foreach (var input in new[] { Rich, Poor, Target })
        {
            if (values.Of(input) > highest)
            {
                throw values.Wrong(input, $"a number from {0} to {new Amount(highest, measure is SquareOf.Brix ? "°Bx" : "% vol")}");
            }
        }

        var (rich, poor, target) = (values.Of(Rich), values.Of(Poor), values.Of(Target));
        if (PearsonSquare.Parts(rich, poor, target) is not { } parts)
        {
            return WorksheetAnswer.Refuse("not-between", "What is wanted does not lie between the two, so no mixture of them reaches it.");
        }

        var basis = Basis.Is(measure is SquareOf.Brix ? "by mass" : "by volume");
        IReadOnlyList<WorksheetResult> head = [basis, RichParts.Is(parts.Rich), PoorParts.Is(parts.Poor)];
        var volume = values.Of(Volume);
        return measure switch
        {
            SquareOf.Brix => ByMass(head, parts.Rich / (parts.Rich + parts.Poor), volume, brix => SucrosePolynomial.GravityAt20(brix / 100) * SucrosePolynomial.WaterAt20 / 1000, rich, poor, target),
            SquareOf.Alcohol => ByMass(head, Share(rich, poor, target), volume, DensityOfAlcohol, rich, poor, target),
            _ => new WorksheetAnswer([.. head, RichVolume.Is(volume * parts.Rich / (parts.Rich + parts.Poor)), PoorVolume.Is(volume * parts.Poor / (parts.Rich + parts.Poor))], []),
        };
    }

    private static WorksheetAnswer ByMass(IReadOnlyList<WorksheetResult> head, double share, double volume, Func<double, double> density, double rich, double poor, double target)
    {
        var mass = volume * density(target);
        return new WorksheetAnswer(
            [
                .. head,
                RichVolume.Is(share * mass / density(rich), 0.002 * volume), PoorVolume.Is((1 - share) * mass / density(poor), 0.002 * volume),
                RichMass.Is(share * mass), PoorMass.Is((1 - share) * mass),
            ],
            [WorksheetNotice.Note("volumes-do-not-add", "The two volumes do not quite add up to the one wanted, and the parts by volume differ a little from the square: weigh, or measure afterwards.")]);
    }

    /// <summary>Mass share of the stronger, by what is ethanol in each.</summary>
    private static double Share(double rich, double poor, double target)
    {
        var (strong, weak, wanted) = (Fraction(rich), Fraction(poor), Fraction(target));
        return (wanted - weak) / (strong - weak);
    }

    private static double Fraction(double percent) => EthanolSolution.MassFractionOf(AlcoholByVolume.FromPercent(percent));

    private static double DensityOfAlcohol(double percent) => EthanolPolynomial.KilogramsPerCubicMeterAt20(Fraction(percent)) / 1000;
}
