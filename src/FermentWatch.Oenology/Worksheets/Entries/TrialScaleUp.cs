using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>From the winning glass to the batch.</summary>
internal static class TrialScaleUp
{
    private static readonly NumberInput Dose = new("dose", "Dose of the winning glass", QuantityKind.Dose, 0.001, 300, Help: "Active part in a liter of the finished glass, from what was weighed into it.");
    private static readonly NumberInput Volume = new("volume", "Volume today", QuantityKind.Volume, 0.2, 10000);
    private static readonly NumberInput VolumeError = new("volume-error", "Error of the volume", QuantityKind.Volume, 0, 1000, 0.2);

    private static readonly NumberOutput Product = new("product", "Product to weigh", QuantityKind.Mass, 3);
    private static readonly NumberOutput First = new("first-portion", "Three quarters to begin with", QuantityKind.Mass, 3);
    private static readonly NumberOutput Rest = new("rest", "The rest, after waiting and tasting", QuantityKind.Mass, 3);
    private static readonly NumberOutput Liquid = new("product-volume", "The same as a volume", QuantityKind.SmallVolume, 1);
    private static readonly NumberOutput Achieved = new("achieved-dose", "Dose that this amount gives", QuantityKind.Dose, 3);
    private static readonly NumberOutput After = new("volume-after", "Volume afterwards", QuantityKind.Volume, 2);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "trial-scale-up",
        Subject = WorksheetSubject.Tasting,
        Title = "From the winning glass to the batch",
        Purpose = "What to weigh for the batch, rounded once to what the scale can show, and the dose that this really gives. Tannin goes first and waits one to two weeks; sugar only into a stabilized wine; acid and sugar may be adjusted up to bottling; sulfite is measured again after pH has moved. Keep 100 mL of the winning glass to compare.",
        Inputs = [BenchFields.Additive, BenchFields.Strength, Dose, Volume, VolumeError, BenchFields.Division, BenchFields.Capacity, BenchFields.Tolerance, LawField.Input],
        Outputs = [Product, First, Rest, Liquid, Achieved, After],
        Sources =
        [
            WorksheetSource.Computed("x = V c / (1 - v c), the additive's own volume counted"),
            WorksheetSource.Published("USP41", "error of a weighing"),
            WorksheetSource.CommonPractice("three quarters first, wait, taste, then the rest"),
        ],
        Cautions = [Caution.LocalLaw, Caution.MeasureFirst, Caution.BottlePressure, Caution.Sulfite, Caution.Foam, Caution.CarbonateFoam, Caution.Acid],
        Examples =
        [
            WorkedExample.Of("additive=sucrose dose=30 volume=19 scale-step=1", "computed by hand: 19 x 30 / (1 - 0.00062 x 30) = 580.8 g on a 1 g scale", new("product", 581, 1e-9), new("first-portion", 436, 1e-9), new("rest", 145, 1e-9), new("achieved-dose", 30.01, 0.005), new("volume-after", 19.36, 0.005)),
            WorkedExample.Saying("additive=citric-acid dose=1.2 volume=19 scale-step=0.1", "OIV: 1 g/L citric acid", "beyond-limit"),
            WorkedExample.Saying("additive=tannin dose=0.02 volume=19 scale-step=1", "computed by hand: 0.38 g on a 1 g scale", "below-step"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var volume = values.Of(Volume);
        if (values.Of(VolumeError) > volume)
        {
            throw values.Wrong(VolumeError, "at most the volume");
        }

        var scale = BenchFields.Scale(values);
        var scaled = ScaleUp.Plan(new ScaleUpRequest(
            new BenchWine(volume, values.Of(VolumeError)),
            [new AdditiveDose(BenchFields.AdditiveOf(values), values.Of(Dose))],
            [scale],
            values.Of(BenchFields.Tolerance) / 100,
            Law: values.Of(LawField.Input)));
        if (!scaled.Refusals.IsEmpty)
        {
            return WorksheetAnswer.Refuse(scaled.Refusals[0].Code, scaled.Refusals[0].Words!);
        }

        if (scaled.Plan is not { } plan)
        {
            throw values.Wrong(Dose, "so small that more than half of the finished volume is wine");
        }

        var addition = plan.Additions[0];
        if (addition.Product.Shown is null)
        {
            return WorksheetAnswer.Refuse(BenchNoticeCodes.BelowStep, $"The batch needs less than one division of this scale ({scale.DivisionGrams} g): no amount can be weighed. Make a stock solution, or use a finer scale.");
        }

        var results = new List<WorksheetResult> { Product.OfStep(scale.DivisionGrams).Is(addition.Product.Taken, scale.ErrorGrams) };
        if (addition is { FirstGrams: { } first, RestGrams: { } rest })
        {
            results.Add(First.OfStep(scale.DivisionGrams).Is((double)first));
            results.Add(Rest.OfStep(scale.DivisionGrams).Is((double)rest));
        }

        if (addition.ProductMilliliters is { } milliliters)
        {
            results.Add(Liquid.Is(milliliters));
        }

        results.Add(Achieved.Is(addition.AchievedGramsPerLiter, addition.ErrorGramsPerLiter));
        results.Add(After.Is(plan.VolumeAfterLiters));
        return new WorksheetAnswer(results, [.. plan.Notices.Select(Said).OfType<WorksheetNotice>()]);
    }

    private static WorksheetNotice? Said(BenchNotice notice) => notice.Code switch
    {
        BenchNoticeCodes.BelowSmallestWeighable => WorksheetNotice.Warning(notice.Code, $"The scale weighs this amount only within {notice.Values[2].Number:0} %; from {notice.Values[1].Number:0.##} g it would be within the allowed error."),
        BenchNoticeCodes.BeyondRecommended => WorksheetNotice.Warning(notice.Code, notice.Words!),
        BenchNoticeCodes.OverCapacity => WorksheetNotice.Note(notice.Code, $"More than the scale carries: weigh it in {notice.Values[2].Number:0} parts."),
        BenchNoticeCodes.StabilizeBeforeSugar => WorksheetNotice.Warning(notice.Code, "Sugar that can ferment will, unless the wine is stabilized first."),
        BenchNoticeCodes.TanninNeedsTime => WorksheetNotice.Note(notice.Code, "Powdered tannin takes 7 to 14 days to show: add little by little, with a taste between."),
        _ => null,
    };
}
