using System.Collections.Immutable;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>One glass of a training kit.</summary>
/// <param name="StimulusCode">What.</param>
/// <param name="Multiple">How many times the stated threshold.</param>
/// <param name="GramsPerLiter">Concentration in the glass. [g/L]</param>
/// <param name="StockMilliliters">Stock that goes in; null when it is less than one division of the syringe. [mL]</param>
/// <param name="AchievedGramsPerLiter">Concentration that the rounded stock gives. [g/L]</param>
public sealed record KitGlass(string StimulusCode, double Multiple, double GramsPerLiter, RoundedAmount StockMilliliters, double AchievedGramsPerLiter);

/// <summary>A kit for one stimulus.</summary>
/// <param name="StockGramsPerLiter">Strength of the stock, in the neutral base. [g/L]</param>
/// <param name="Glasses">Spiked glasses, weakest first; a plain one stands beside them.</param>
/// <param name="Notices">What must be said beside it.</param>
public sealed record PalateKit(double StockGramsPerLiter, ImmutableArray<KitGlass> Glasses, ImmutableArray<BenchNotice> Notices)
{
    /// <summary>Highest multiple for something that is only smelled.</summary>
    /// <remarks>A laboratory supplier's bulletin: five times the threshold, smell only, do not drink [BenchExamples].</remarks>
    public const double HighestSmellMultiple = 5;

    /// <summary>Highest multiple for something that is tasted (a choice of this product).</summary>
    public const double HighestTasteMultiple = 10;

    /// <summary>Plans a kit.</summary>
    /// <param name="stimulus">What.</param>
    /// <param name="multiples">Rising multiples of the stated threshold, 1 to 6 of them, from 0.1 to 10; 5 at most for what is only smelled.</param>
    /// <param name="glassMilliliters">Finished volume of each glass, 20 to 1000 mL.</param>
    /// <param name="syringe">The syringe it is dosed with.</param>
    /// <param name="tolerance">Allowed error of a dose, 0.001 to 0.5.</param>
    /// <remarks><b>Equation.</b> v = c·T/C, T the finished glass; the stock C is as strong as the weakest glass can still be read within the
    /// tolerance: ½ division/tolerance. The strongest glass may be half stock at most. <b>Source.</b> Thresholds as <see cref="TasteStimulus"/>
    /// says. <b>Check.</b> PalateKitTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside these ranges, or multiples too far apart for one stock.</exception>
    public static PalateKit Plan(TasteStimulus stimulus, IReadOnlyList<double> multiples, double glassMilliliters, DosingSyringe syringe, double tolerance = TrialEquipment.UsualTolerance)
    {
        ArgumentNullException.ThrowIfNull(stimulus);
        ArgumentNullException.ThrowIfNull(multiples);
        ArgumentNullException.ThrowIfNull(syringe);
        QuantityRange.Require(multiples.Count, 1, 6, "multiples", "(count)");
        QuantityRange.Require(glassMilliliters, 20, 1000, "glass volume", "mL");
        QuantityRange.Require(tolerance, 0.001, 0.5, "tolerance", "(share)");
        QuantityRange.Require(multiples.Min(), 0.1, multiples.Max(), "lowest multiple", "times the threshold");
        QuantityRange.Require(multiples.Max(), 0.1, stimulus.IsSmellOnly ? HighestSmellMultiple : HighestTasteMultiple, "highest multiple", "times the threshold");

        var middle = stimulus.MiddleGramsPerLiter;
        var smallestDose = Math.Max(syringe.DivisionMilliliters, 0.5 * syringe.DivisionMilliliters / tolerance);
        var stock = multiples.Min() * middle * glassMilliliters / smallestDose;
        var largest = multiples.Max() * middle * glassMilliliters / stock;
        QuantityRange.Require(largest, 0, glassMilliliters / 2, "stock for the strongest glass", "mL: take multiples nearer together, a larger glass or a finer syringe");
        var notices = new List<BenchNotice> { BenchNotice.Note(BenchNoticeCodes.ThresholdsVary, new NoticeValue("lowest", stimulus.LowGramsPerLiter, "g/L"), new NoticeValue("highest", stimulus.HighGramsPerLiter, "g/L")) };
        if (stimulus.IsSmellOnly)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.SmellOnly, new NoticeValue("highest-multiple", HighestSmellMultiple, string.Empty)));
        }

        if (stimulus.SourceKey.Length == 0)
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.FromMemory));
        }

        return new(
            stock,
            [
                .. multiples.Order().Select(multiple =>
                {
                    var concentration = multiple * middle;
                    var dose = RoundedAmount.Of(concentration * glassMilliliters / stock, syringe.DivisionMilliliters);
                    return new KitGlass(stimulus.Code, multiple, concentration, dose, stock * dose.Taken / glassMilliliters);
                }),
            ],
            [.. notices]);
    }
}
