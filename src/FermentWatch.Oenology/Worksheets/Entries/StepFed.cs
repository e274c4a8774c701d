using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Original gravity of a must that was fed.</summary>
internal static class StepFed
{
    private static readonly NumberInput _volume = new("volume", "Volume at the start", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput _gravity = new("original-gravity", "Original gravity at the start", QuantityKind.Gravity, 1.000, 1.175);
    private static readonly NumberListInput _fed = new("fed-masses", "Mass of each feed", QuantityKind.LargeMass, 0.001, 1000, 1, 10);
    private static readonly NumberInput _water = new("fed-water", "Water fed with it", QuantityKind.Volume, 0, 1000, 0);
    private static readonly NumberOutput _original = new("original-gravity-fed", "Original gravity, feeds counted in", QuantityKind.Gravity, 4);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "step-feeding",
        Subject = WorksheetSubject.Gravity,
        Title = "Original gravity after step feeding",
        Purpose = "Sugar or honey fed during the ferment makes the first original gravity wrong. This is the one to compute alcohol with.",
        Inputs = [_volume, _gravity, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix, _fed, _water],
        Outputs = [_original],
        Sources = SweetenerFields.Sources,
        Cautions = [Caution.Foam],
        Examples = [WorkedExample.Of("volume=10 original-gravity=18°P sweetener=sucrose fed-masses=0.3;0.2498", "computed by hand: 0.5498 kg raise 10 L of 18 °P to 22 °P, SG 1.0919", new ExpectedResult("original-gravity-fed", 1.0919, 0.0003))],
        Compute = values =>
        {
            var sweetener = SweetenerFields.Read(values);
            var feeds = values.Of(_fed).Select(sweetener.Amount).Append(Liquid.Water(values.Of(_water) * 0.9982));
            return WorksheetAnswer.Of(_original.Is(StepFeeding.OriginalGravity(Liquid.OfMust(values.Volume(_volume), values.Gravity(_gravity)), feeds), gravity => gravity.Value));
        },
    };
}
