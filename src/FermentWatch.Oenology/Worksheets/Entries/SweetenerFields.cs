using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>The fields by which a sweetener is named.</summary>
internal static class SweetenerFields
{
    public static readonly ChoiceInput<SweetenerKind> Kind = new("sweetener", "Sweetener", [
        (SweetenerKind.Sucrose, "White sugar"),
        (SweetenerKind.Dextrose, "Dextrose without water"),
        (SweetenerKind.DextroseMonohydrate, "Dextrose, the usual powder with crystal water"),
        (SweetenerKind.BrownSugar, "Brown sugar"),
        (SweetenerKind.Honey, "Honey"),
        (SweetenerKind.Concentrate, "Juice or juice concentrate"),
        (SweetenerKind.Syrup, "Sugar syrup")]);

    public static readonly NumberInput HoneyWater = new("honey-water", "Water of the honey", QuantityKind.Percent, 13, 25, Honey.UsualWaterPercent, Help: "By honey refractometer; used for honey alone.");
    public static readonly NumberInput Brix = new("sweetener-brix", "Extract of concentrate, juice or syrup", QuantityKind.Extract20, 1, 85, Optional: true, Help: "Needed for these alone.");

    public static readonly IReadOnlyList<WorksheetSource> Sources =
    [
        WorksheetSource.Computed("balance of mass; dextrose monohydrate from molar masses"),
        WorksheetSource.Published("Bubnik1995", "density of sucrose solutions"),
        WorksheetSource.Published("USDAHoney", "sugar of honey"),
        WorksheetSource.FromMemory("brown sugar 97 % sugar; 95 % of a juice's Brix is sugar"),
    ];

    public static Sweetener Read(WorksheetValues values)
    {
        var kind = values.Of(Kind);
        return kind is SweetenerKind.Concentrate or SweetenerKind.Syrup
            ? Sweetener.Of(kind, brix: values.Needed(Brix, "because the sweetener is a juice or syrup"))
            : Sweetener.Of(kind, values.Of(HoneyWater));
    }
}
