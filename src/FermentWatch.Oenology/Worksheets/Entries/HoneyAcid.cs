using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Acid that honey brings into a must.</summary>
internal static class HoneyAcid
{
    private static readonly NumberInput Honey = new("honey", "Honey", QuantityKind.LargeMass, 0, 10000);
    private static readonly NumberInput Acidity = new("honey-acidity", "Total acidity of the honey, in meq/kg", QuantityKind.Ratio, 5, 100, Usual: HoneyAcidity.MeanMilliequivalentsPerKilogram, Help: "29 on the mean of 490 honeys, from 9 to 59.");

    private static readonly NumberOutput Result = new("titratable-acidity", "Titratable acidity from honey, as tartaric acid", QuantityKind.AcidConcentration, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "honey-acidity",
        Subject = WorksheetSubject.Must,
        Title = "Acid that honey brings",
        Purpose = "Honey musts have almost no titratable acid and buffer little, so their pH can crash during the ferment: watch it, and add acid at the end.",
        Inputs = [AcidFields.Volume, Honey, Acidity],
        Outputs = [Result],
        Sources = [WorksheetSource.Published("White1962", "acidity of 490 honeys"), WorksheetSource.Published("Mato1997", "gluconic acid of honey")],
        Cautions = [Caution.HoneyInfants],
        Examples = [WorkedExample.Of("volume=10 honey=3", "computed by hand: 0.3 kg/L x 29.12 meq/kg x 75.04 mg", new ExpectedResult("titratable-acidity", 0.656, 0.002))],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (liters, kilograms) = (values.Of(AcidFields.Volume), values.Of(Honey));
        if (kilograms > 1.45 * liters)
        {
            throw values.Wrong(Honey, "at most 1.45 kg for each liter, for the must holds the honey");
        }

        var acidity = HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(1000 * kilograms / liters), values.Of(Acidity));
        var factor = AcidBasis.Tartaric.GramsPerEquivalent() / 1000;
        return new WorksheetAnswer(
            [Result.Is(acidity.Value.GramsPerLiter(AcidBasis.Tartaric), acidity.Tolerance * factor, acidity.Validity)],
            [WorksheetNotice.Note("lactones", "Gluconic acid and its lactones shift slowly, so the acidity drifts up for weeks.")]);
    }
}
