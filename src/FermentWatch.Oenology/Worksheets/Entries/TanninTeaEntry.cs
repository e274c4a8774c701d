using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tannin;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Black tea in the place of tannin.</summary>
internal static class TanninTeaEntry
{
    private const double CupLiters = 0.24;

    private static readonly NumberInput Tannin = new("tannin", "Tannin wanted", QuantityKind.SmallDose, 1, 500, Help: "Start at 20 to 50 mg/L.");

    private static readonly NumberOutput Fewest = new("cups-fewest", "Cups of strong tea, begin with these", QuantityKind.Ratio, 1);
    private static readonly NumberOutput Most = new("cups-most", "Cups if the tea is weak", QuantityKind.Ratio, 1);
    private static readonly NumberOutput Water = new("dilution", "Water that they bring, at most", QuantityKind.Percent, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "tannin-tea",
        Subject = WorksheetSubject.Tannin,
        Title = "Black tea in the place of tannin",
        Purpose = "Black tea steeped about five minutes stands in for tannin powder, but brings its own flavor, and its tannin is known only within a factor of two.",
        Inputs = [TanninFields.Volume, Tannin],
        Outputs = [Fewest, Most, Water],
        Sources = [WorksheetSource.FromMemory("150 to 300 mg of tannin in a strong cup of 240 mL"), WorksheetSource.CommonPractice("steeped about five minutes")],
        Cautions = [Caution.MeasureFirst],
        Examples = [WorkedExample.Of("volume=5 tannin=60", "computed by hand: 300 mg over 300 and over 150", new("cups-fewest", 1, 1e-9), new("cups-most", 2, 1e-9), new("dilution", 9.6, 1e-9))],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var volume = values.Volume(TanninFields.Volume);
        var (fewest, most) = TanninSupply.TeaCups(MassConcentration.FromMilligramsPerLiter(values.Of(Tannin)), volume);
        var water = 100 * most * CupLiters / volume.Liters;
        var notices = new List<WorksheetNotice> { TanninFields.Wait };
        if (water > 5)
        {
            notices.Add(WorksheetNotice.Warning("much-water", $"That much tea thins the wine by up to {water:F0} % and tastes of tea: take powder, or a stronger brew of two bags a cup."));
        }

        return new([Fewest.Is(fewest), Most.Is(most), Water.Is(water)], notices);
    }
}
