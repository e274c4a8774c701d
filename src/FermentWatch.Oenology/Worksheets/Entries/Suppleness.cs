using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Alcohol against acid and tannin in a dry red.</summary>
internal static class Suppleness
{
    private static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 7, 18);
    private static readonly NumberInput Tannin = new("tannin", "Tannin, measured", QuantityKind.Dose, 0, 6);

    private static readonly NumberOutput Index = new("suppleness-index", "Index of suppleness", QuantityKind.Ratio, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "suppleness-index",
        Subject = WorksheetSubject.Acidity,
        Title = "Suppleness of a dry red wine",
        Purpose = "Alcohol against acid and tannin after Peynaud: about 5 and above tastes supple. A rule of taste for dry red table wine only; sweetness is not in it.",
        Inputs = [Alcohol, AcidFields.Acidity, Tannin],
        Outputs = [Index],
        Sources = [WorksheetSource.Published("Peynaud1984", "the index"), WorksheetSource.FromMemory("that the acidity is meant as sulfuric acid")],
        Cautions = [],
        Examples = [WorkedExample.Of("alcohol=12 titratable-acidity=5.51 tannin=1.7", "Peynaud: 12 - (3.6 + 1.7), 3.6 g/L as sulfuric being 5.51 as tartaric", new ExpectedResult("suppleness-index", 6.7, 0.05))],
        Compute = values => WorksheetAnswer.Of(Index.Is(SupplenessIndex.Of(
            values.Alcohol(Alcohol),
            TitratableAcidity.FromGramsPerLiter(values.Of(AcidFields.Acidity), AcidBasis.Tartaric),
            MassConcentration.FromGramsPerLiter(values.Of(Tannin))))),
    };
}
