using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A stock solution with which the finest step of a trial can be weighed.</summary>
internal static class TrialStock
{
    private static readonly NumberInput Volume = new("volume", "Volume of the batch", QuantityKind.Volume, 0.2, 10000, 19, Help: "The stock is made in the wine itself and may take 5 % of it.");
    private static readonly NumberInput Glass = new("glass-volume", "Volume of each glass", QuantityKind.SmallVolume, 10, 2000, 100);
    private static readonly NumberInput Step = new("finest-step", "Finest step of the trial", QuantityKind.Dose, 0.001, 50, Help: "In a liter of the finished glass. Taste tells sugar in steps of 3 to 5 g/L, acid in steps of 0.5 g/L.");
    private static readonly NumberInput Largest = new("largest-dose", "Largest dose", QuantityKind.Dose, 0.001, 300);

    private static readonly NumberOutput Product = new("product", "Product to weigh", QuantityKind.Mass, 2);
    private static readonly NumberOutput Wine = new("wine", "Wine to weigh beside it", QuantityKind.Mass, 2);
    private static readonly NumberOutput Strength = new("stock-strength", "Active part of the stock", QuantityKind.Dose, 1);
    private static readonly NumberOutput StepGrams = new("stock-for-finest-step", "Stock for the finest step", QuantityKind.Mass, 2);
    private static readonly NumberOutput LargestGrams = new("stock-for-largest-dose", "Stock for the largest dose", QuantityKind.Mass, 2);
    private static readonly NumberOutput Smallest = new("smallest-weighable", "Smallest amount that the scale weighs within the error", QuantityKind.Mass, 3);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "trial-stock",
        Subject = WorksheetSubject.Tasting,
        Title = "Stock solution for a trial",
        Purpose = "How strong a stock to make, in the wine itself, so that each step of a bench trial can be weighed. Weigh the filled syringe before and after: reading its marks errs more.",
        Inputs = [BenchFields.Additive, BenchFields.Strength, Step, Largest, Glass, Volume, BenchFields.Division, BenchFields.Capacity, BenchFields.Tolerance],
        Outputs = [Product, Wine, Strength, StepGrams, LargestGrams, Smallest],
        Sources =
        [
            WorksheetSource.Published("USP41", "smallest weighable amount: 0.82 x division / allowed error"),
            WorksheetSource.Published("BenchExamples", "strengths of stocks and sizes of glasses"),
            WorksheetSource.CommonPractice("stock in the wine itself, glasses and control topped to equal added liquid"),
        ],
        Cautions = [Caution.MeasureFirst, Caution.AlcoholServed, Caution.Acid, Caution.CarbonateFoam],
        Examples =
        [
            WorkedExample.Of("additive=tartaric-acid finest-step=0.5 largest-dose=2 scale-step=0.01", "computed by hand: 0.82 x 0.01 / 0.05; 10 % stock, 0.5 g/L in 100 mL is 0.05 g", new("smallest-weighable", 0.164, 1e-9), new("stock-for-finest-step", 0.5, 0.02), new("stock-for-largest-dose", 2, 0.08)),
            WorkedExample.Saying("additive=tartaric-acid finest-step=0.5 largest-dose=4 scale-step=1", "computed by hand: 16.4 g are the least that a 1 g scale weighs within 5 %", "step-not-measurable"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (step, largest) = (values.Of(Step), values.Of(Largest));
        if (largest < step)
        {
            throw values.Wrong(Largest, "at least the finest step");
        }

        var scale = BenchFields.Scale(values);
        var request = new TrialRequest(
            new BenchWine(values.Of(Volume), 0),
            new TrialEquipment([scale], new DosingSyringe(10, 0.2, 0), DosingMethod.WeighedByDifference, values.Of(BenchFields.Tolerance) / 100),
            TrialPlanKind.Ladder,
            [new TrialFactor(BenchFields.AdditiveOf(values), [largest], step, largest)],
            ["taster"],
            values.Of(Glass),
            5,
            1);
        var notices = new List<BenchNotice>();
        if (StockPlanning.Plan(request, request.Factors[0], notices) is not { } stock)
        {
            return Refused(notices[^1]);
        }

        return WorksheetAnswer.Of(
            Product.Is(stock.ProductGrams.Taken),
            Wine.Is(stock.LiquidGrams.Taken),
            Strength.Is(stock.ActiveGramsPerLiter),
            StepGrams.Is(stock.GramsFor(step, request.GlassMilliliters), scale.ErrorGrams),
            LargestGrams.Is(stock.GramsFor(largest, request.GlassMilliliters), scale.ErrorGrams),
            Smallest.Is(scale.SmallestWeighableGrams(request.Equipment.Tolerance)));
    }

    private static WorksheetAnswer Refused(BenchNotice notice)
    {
        double Value(string name) => notice.Values.First(value => value.Name == name).Number;
        return WorksheetAnswer.Refuse(notice.Code, notice.Code == BenchNoticeCodes.StockNotMeasurable
            ? (Phrase)$"The product for the stock can't be weighed within the error on this scale: it needs {Value("smallest-weighable"):0.##} g, and the trial no more than {notice.Values[0].Number:0.###} g. A scale with a division of {Value("division"):0.####} g or finer would do."
            : $"This scale can't weigh the step within the error: the finest step it can is {Value("smallest-step"):0.###} g/L in this glass. A glass of {Value("glass-volume"):0} mL, or a finer scale, would do.");
    }
}
