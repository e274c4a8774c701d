using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Gravity from a scale under the vessel.</summary>
internal static class MassLoss
{
    private static readonly NumberInput Volume = new("volume", "Volume of must at the start", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.000, 1.175);
    private static readonly NumberInput Lost = new("mass-lost", "Mass lost as gas", QuantityKind.LargeMass, 0, 2000, Help: "Samples and rackings taken out of it.");
    private static readonly NumberOutput Gravity = new("gravity", "Gravity now", QuantityKind.Gravity, 3);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "mass-loss",
        Subject = WorksheetSubject.Gravity,
        Title = "Gravity from the mass that left as gas",
        Purpose = "The gravity of a ferment whose vessel stands on a scale.",
        Inputs = [Volume, Original, Lost],
        Outputs = [Gravity],
        Sources = [WorksheetSource.Published("Balling1865", "balance of alcohol, gas and yeast"), WorksheetSource.FromMemory("0.9565 g of gas for a gram of ethanol")],
        Cautions = [Caution.CarbonDioxide],
        Examples =
        [
            WorkedExample.Of("volume=20 original-gravity=1.090 mass-lost=1.796", "by hand with Balling's balance: 12.02 % vol at 1.000 (a second program) are 8.63 g of ethanol and 8.25 g of gas from 100 g of 21.76 kg", new ExpectedResult("gravity", 1.000, 0.0007)),
            WorkedExample.Of("volume=20 original-gravity=1.090 mass-lost=0", "nothing lost, nothing fermented", new ExpectedResult("gravity", 1.090, 0.0005)),
        ],
        Compute = values => WorksheetAnswer.Of(Gravity.Is(GravityFromMassLoss.Of(values.Gravity(Original), values.Volume(Volume), values.Of(Lost)), gravity => gravity.Value)),
    };
}
