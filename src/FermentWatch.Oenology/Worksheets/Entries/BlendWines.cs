using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Two to six wines in one.</summary>
internal static class BlendWines
{
    private static readonly NumberListInput Volumes = new("volumes", "Volume of each wine", QuantityKind.Volume, 0.01, 10_000, 2, 6);
    private static readonly NumberListInput Gravities = new("gravities", "Gravity of each", QuantityKind.Gravity, 0.970, 1.150, 2, 6);
    private static readonly NumberListInput Alcohols = new("alcohols", "Alcohol of each", QuantityKind.Alcohol, 0, 22, 2, 6);
    private static readonly NumberListInput Acidities = new("acidities", "Titratable acidity of each", QuantityKind.AcidConcentration, 0, 20, 2, 6, Optional: true, Help: "As tartaric acid.");
    private static readonly NumberListInput Phs = new("phs", "pH of each", QuantityKind.Ph, 2.5, 4.6, 2, 6, Optional: true, Help: "With the acidity of each it tells the pH of the blend.");
    private static readonly ChoiceInput<AcidProfile> Drink = AcidFields.Profile with { Optional = true, Help = "Only for the proportions of the acids. Empty: as grape wine, which is said." };
    private static readonly NumberListInput Sulfites = new("total-sulfites", "Total sulfite of each", QuantityKind.SmallDose, 0, 500, 2, 6, Optional: true);

    private static readonly NumberOutput VolumeOutput = new("volume-after", "Volume of the blend", QuantityKind.Volume, 2);
    private static readonly NumberOutput Gravity = new("gravity-after", "Gravity", QuantityKind.Gravity, 4);
    private static readonly NumberOutput Alcohol = new("alcohol-after", "Alcohol", QuantityKind.Alcohol, 2);
    private static readonly NumberOutput Acidity = new("titratable-acidity-after", "Titratable acidity", QuantityKind.AcidConcentration, 2);
    private static readonly NumberOutput Sulfite = new("total-sulfite-after", "Total sulfite", QuantityKind.SmallDose, 0);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "blend-wines",
        Subject = WorksheetSubject.Blending,
        Title = "Blend two to six wines",
        Purpose = "Volume, gravity, alcohol, acidity and sulfite of a blend, by mass: volumes do not quite add up. pH is no mean of the parts: with pH and acidity of each it is told by balance of charges. Measure it.",
        Inputs = [Volumes, Gravities, Alcohols, Acidities, Phs, Drink, Sulfites],
        Outputs = [VolumeOutput, Gravity, Alcohol, Acidity, AcidFields.PhAfter, Sulfite],
        Sources = [WorksheetSource.Computed("balance of mass"), WorksheetSource.Published("OIMLR22", "density of ethanol and water, with its contraction"), .. AcidFields.Sources],
        Cautions = [Caution.BottlePressure, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("volumes=20;5 gravities=0.9922;0.9950 alcohols=13.5;11 acidities=6;8", "computed by hand: (20 x 13.5 + 5 x 11)/25, (20 x 6 + 5 x 8)/25", new("alcohol-after", 13.0, 0.01), new("titratable-acidity-after", 6.4, 0.005)),
            WorkedExample.Of("volumes=10;10 gravities=0.9922;0.9922 alcohols=12;12 acidities=6;6 phs=3.3;3.3", "equal parts change nothing", new("ph-after", 3.3, 0.001), new("titratable-acidity-after", 6, 1e-6)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var volumes = values.Of(Volumes);
        foreach (var list in new[] { Gravities, Alcohols, Acidities, Phs, Sulfites })
        {
            if (values.Of(list).Count != volumes.Count && (!list.IsOptional || values.Of(list).Count > 0))
            {
                throw values.Wrong(list, "as many numbers as there are volumes");
            }
        }

        var (acidities, sulfites) = (values.Of(Acidities), values.Of(Sulfites));
        var after = Blend.Of([.. volumes.Select((volume, place) => new BlendPart(
            Liquid.Of(Volume.FromLiters(volume), SpecificGravity.FromRatio(values.Of(Gravities)[place]), AlcoholByVolume.FromPercent(values.Of(Alcohols)[place])),
            acidities.Count > 0 ? acidities[place] : 0,
            TotalSulfite: sulfites.Count > 0 ? sulfites[place] : 0))]);
        var results = new List<WorksheetResult>
        {
            VolumeOutput.Is(after.Liquid.Volume.Liters), Gravity.Is(after.Liquid.Gravity.Value, 0.0005), Alcohol.Is(after.Liquid.Alcohol.Percent, 0.05),
        };
        if (acidities.Count > 0)
        {
            results.Add(Acidity.Is(after.TitratableAcidity));
        }

        if (values.Of(Phs).Count > 0)
        {
            results.Add(AcidFields.PhAfter.Is(Acids(values).Ph, ph => ph.Value));
        }

        if (sulfites.Count > 0)
        {
            results.Add(Sulfite.Is(after.TotalSulfite));
        }

        var notices = new List<WorksheetNotice> { WorksheetNotice.Note("blend-wakes", "A dry wine blended with a sweet one can ferment again: stabilize the blend, and measure free sulfite and pH anew.") };
        if (values.Of(Phs).Count > 0 && values.Maybe(Drink) is null)
        {
            notices.Add(AcidFields.DrinkAssumed);
        }

        return new WorksheetAnswer(results, notices);
    }

    private static AcidPrediction Acids(WorksheetValues values)
    {
        var acidities = values.Of(Acidities);
        if (acidities.Count == 0)
        {
            throw values.Wrong(Acidities, "given for each wine, because their pH is given");
        }

        return AcidBlend.Of([.. values.Of(Volumes).Select((volume, place) => (
            AcidBuffer.Fit(
                new(Ph.FromValue(values.Of(Phs)[place]), TitratableAcidity.FromGramsPerLiter(acidities[place], AcidBasis.Tartaric), AlcoholByVolume.FromPercent(values.Of(Alcohols)[place])),
                values.Maybe(Drink) ?? AcidProfile.GrapeWine)
            ?? throw values.Wrong(Acidities, $"more for wine {place + 1}, beside its pH: one of the two is wrong"),
            Volume.FromLiters(volume)))]);
    }
}
