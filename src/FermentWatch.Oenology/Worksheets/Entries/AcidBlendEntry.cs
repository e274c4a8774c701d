using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A blend of acid powders in the maker's own proportions.</summary>
internal static class AcidBlendEntry
{
    private static readonly NumberInput Tartaric = new("tartaric-parts", "Tartaric acid, parts by mass", QuantityKind.Ratio, 0, 100, Usual: 0);
    private static readonly NumberInput Malic = new("malic-parts", "Malic acid, parts by mass", QuantityKind.Ratio, 0, 100, Usual: 0);
    private static readonly NumberInput Citric = new("citric-parts", "Citric acid, parts by mass", QuantityKind.Ratio, 0, 100, Usual: 0);
    private static readonly NumberInput Rise = new("rise", "Rise of titratable acidity wanted, as tartaric acid", QuantityKind.AcidConcentration, 0.1, 10);

    private static readonly NumberOutput Sum = new("mass", "Blend", QuantityKind.Mass, 1);
    private static readonly NumberOutput TartaricMass = new("tartaric-mass", "Tartaric acid", QuantityKind.Mass, 1);
    private static readonly NumberOutput MalicMass = new("malic-mass", "Malic acid", QuantityKind.Mass, 1);
    private static readonly NumberOutput CitricMass = new("citric-mass", "Citric acid", QuantityKind.Mass, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "acid-blend",
        Subject = WorksheetSubject.Acidity,
        Title = "Blend of acids for a rise of acidity",
        Purpose = "Grams of each acid of a blend of your own for a rise of titratable acidity. A gram of citric or malic acid counts for more than a gram of tartaric.",
        Inputs = [AcidFields.Volume, Rise, Tartaric, Malic, Citric, LawField.Input],
        Outputs = [Sum, TartaricMass, MalicMass, CitricMass],
        Sources = [WorksheetSource.Computed("equivalents from atomic masses"), WorksheetSource.Published("OIVA1", "at most 54 meq/L added to must"), WorksheetSource.Published("OIVC101", "citric acid at most 1 g/L")],
        Cautions = [Caution.MeasureFirst, Caution.Acid, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 rise=1 tartaric-parts=50 malic-parts=50", "computed by hand: 2/(1.000 + 1.1193) g/L x 20 L", new("mass", 18.87, 0.01), new("tartaric-mass", 9.44, 0.01), new("malic-mass", 9.44, 0.01)),
            WorkedExample.Saying("volume=20 rise=3 citric-parts=1", "computed by hand: 2.56 g/L of citric acid is above 1 g/L", "beyond-limit"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        IReadOnlyList<(WeakAcid Acid, double Parts)> parts = [(WeakAcid.Tartaric, values.Of(Tartaric)), (WeakAcid.Malic, values.Of(Malic)), (WeakAcid.Citric, values.Of(Citric))];
        if (parts.Sum(part => part.Parts) < 0.01)
        {
            throw values.Wrong(Tartaric, "above 0, or one of the other acids must be");
        }

        var blend = AcidSupply.Blend(parts);
        var dose = blend.GramsPerLiterFor(TitratableAcidity.FromGramsPerLiter(values.Of(Rise), AcidBasis.Tartaric));
        var mixture = blend.MixtureOf(dose);
        var guarded = AcidSupplyFields.Guarded(values.Of(LawField.Input), mixture);
        if (AcidSupplyFields.Refusal(guarded) is { } refusal)
        {
            return refusal;
        }

        var liters = values.Of(AcidFields.Volume);
        double Grams(WeakAcid acid) => mixture.GramsPerLiterOf(acid) * liters;
        return new WorksheetAnswer(
            [Sum.Is(dose * liters), TartaricMass.Is(Grams(WeakAcid.Tartaric)), MalicMass.Is(Grams(WeakAcid.Malic)), CitricMass.Is(Grams(WeakAcid.Citric))],
            [.. guarded, WorksheetNotice.Note("half-first", "Half of it first, then mix, wait, measure and taste.")]);
    }
}
