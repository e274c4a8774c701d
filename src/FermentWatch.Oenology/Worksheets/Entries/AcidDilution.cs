using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What water does to acid and pH.</summary>
internal static class AcidDilution
{
    private static readonly NumberInput Water = new("water", "Water added", QuantityKind.Volume, 0, 10000);

    private static readonly NumberOutput Volume = new("volume-after", "Volume after", QuantityKind.Volume, 2);
    private static readonly NumberOutput Alcohol = new("alcohol-after", "Alcohol after", QuantityKind.Alcohol, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "acid-dilution",
        Subject = WorksheetSubject.Acidity,
        Title = "Dilution of acid with water",
        Purpose = "Water lowers titratable acidity in proportion and hardly moves the pH, because acid and potassium thin out together. It thins everything else too.",
        Inputs = [AcidFields.Volume, Water, AcidFields.Ph, AcidFields.Acidity, AcidFields.Profile, AcidFields.Alcohol, AcidFields.EndPoint],
        Outputs = [Volume, Alcohol, AcidFields.PhAfter, AcidFields.AcidityAfter],
        Sources = [WorksheetSource.Computed("balance of mass; volumes added up, which is 0.2 % too much"), WorksheetSource.Published("Pandell1999", "limits of taste"), .. AcidFields.Sources],
        Cautions = [Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("volume=8 water=2 ph=3.219 titratable-acidity=5.415 drink=grape-wine alcohol=0", "PHREEQC, wine base A diluted to 80 %: pH 3.232; balance of mass", new("ph-after", 3.232, 0.02), new("acidity-after", 4.33, 0.05), new("volume-after", 10, 1e-9)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var profile = values.Of(AcidFields.Profile);
        var alcohol = values.Of(AcidFields.Alcohol);
        var buffer = AcidFields.Fitted(values, profile, alcohol);
        var volume = values.Of(AcidFields.Volume);
        var sum = volume + values.Of(Water);
        var after = buffer.After(AcidChange.DilutionBy(volume / sum));
        return new WorksheetAnswer(
            [Volume.Is(sum), Alcohol.Is(alcohol * volume / sum), .. AcidFields.Results(after)],
            [.. AcidFields.Notices(buffer, profile), .. AcidFields.TasteNotices(after), WorksheetNotice.Note("thins-all", "Sugar, alcohol, tannin, flavor and sulfite thin out too.")]);
    }
}
