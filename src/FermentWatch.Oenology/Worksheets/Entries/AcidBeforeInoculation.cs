using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Acid of a must, before the yeast goes in.</summary>
internal static class AcidBeforeInoculation
{
    private const double MeadPh = 4.0;

    private static readonly ChoiceInput<AcidProfile> Must = new(
        "drink",
        "What it is",
        [
            (AcidProfile.GrapeMust, "Grape must"),
            (AcidProfile.Mead, "Honey must"),
            (AcidProfile.MalicFruit, "Apple or stone fruit must"),
            (AcidProfile.CitricFruit, "Berry or citrus must"),
        ]);

    private static readonly NumberInput Wanted = new("wanted-ph", "pH wanted", QuantityKind.Ph, 2.9, 4.2, Usual: 3.5, Help: "Musts below pH 3.7 keep microbes better.");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "acid-before-inoculation",
        Subject = WorksheetSubject.Must,
        Title = "Acid of the must before inoculation",
        Purpose = "Whether a must needs acid before the yeast goes in, and how much at most. Half of it first: musts differ, and the ferment moves the pH again.",
        Inputs = [AcidFields.Volume, AcidFields.Ph, AcidFields.Acidity, Must, AcidSupplyFields.Acid, Wanted, AcidSupplyFields.Strength, AcidSupplyFields.Density, AcidFields.EndPoint, AcidSupplyFields.Law],
        Outputs = [AcidSupplyFields.Dose, AcidSupplyFields.Mass, AcidSupplyFields.LiquidVolume, AcidSupplyFields.First, AcidFields.PhAfter, AcidFields.AcidityAfter, AcidFields.Buffer],
        Sources =
        [
            .. AcidFields.Sources,
            WorksheetSource.Published("OIVA1", "at most 54 meq/L added to must"),
            WorksheetSource.CommonPractice("must pH of 3.2 to 3.6 before inoculation; honey musts are left alone unless above pH 4"),
        ],
        Cautions = [Caution.MeasureFirst, Caution.Acid, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 ph=3.8 titratable-acidity=5 drink=grape-must acid=tartaric wanted-ph=3.5", "snapshot of the model, which is checked against PHREEQC", new ExpectedResult("ph-after", 3.5, 0.001)),
            WorkedExample.Saying("volume=20 ph=3.8 titratable-acidity=1 drink=mead acid=tartaric wanted-ph=3.5", "common practice, no source: honey musts crash by themselves", "honey-must-crashes"),
            WorkedExample.Saying("volume=20 ph=3.3 titratable-acidity=7 drink=grape-must acid=tartaric wanted-ph=3.5", "computed by hand: already below", "acid-enough"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (ph, profile) = (values.Of(AcidFields.Ph), values.Of(Must));
        if (ph <= values.Of(Wanted))
        {
            return WorksheetAnswer.Refuse("acid-enough", "The pH is already at or below what is wanted: no acid before inoculation.");
        }

        if (profile is AcidProfile.Mead && ph < MeadPh)
        {
            return WorksheetAnswer.Refuse("honey-must-crashes", "No acid into a honey must below pH 4.0 before the ferment (common practice, no source): honey buffers little and yeast acidifies it, often below pH 3.2, where it stalls. Add acid at the end, to taste.");
        }

        var supply = AcidSupplyFields.Supply(values);
        var buffer = AcidFields.Fitted(values, profile, 0);
        var dose = supply.GramsPerLiterFor(buffer, Ph.FromValue(values.Of(Wanted)))
            ?? throw values.Wrong(Wanted, "within reach of this acid");
        var change = supply.ChangeBy(dose);
        var guarded = AcidSupplyFields.Guarded(values.Of(AcidSupplyFields.Law), change.Added);
        return AcidSupplyFields.Refusal(guarded) ?? new WorksheetAnswer(
            [
                .. AcidSupplyFields.Results(supply, dose, values.Of(AcidFields.Volume)),
                .. AcidFields.Results(buffer.After(change), supply.RiseOf(dose).Tolerance),
                AcidFields.Buffer.Is(AcidFields.Fall(buffer)),
            ],
            [.. guarded, .. AcidFields.Notices(buffer, profile), AcidSupplyFields.TasteOf(values.Of(AcidSupplyFields.Acid))]);
    }
}
