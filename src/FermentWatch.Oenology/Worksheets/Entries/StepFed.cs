using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Original gravity of a must that was fed.</summary>
internal static class StepFed
{
    private static readonly NumberInput Volume = new("volume", "Volume at the start", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput Gravity = new("original-gravity", "Original gravity at the start", QuantityKind.Gravity, 1.000, 1.175);
    private static readonly NumberListInput Fed = new("fed-masses", "Mass of each feed", QuantityKind.LargeMass, 0.001, 1000, 1, 10);
    private static readonly NumberInput Water = new("fed-water", "Water fed with it", QuantityKind.Volume, 0, 1000, 0);
    private static readonly NumberOutput Original = new("original-gravity-fed", "Original gravity, feeds counted in", QuantityKind.Gravity, 4);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "step-feeding",
        Subject = WorksheetSubject.Gravity,
        Title = "Original gravity after step feeding",
        Purpose = "Sugar or honey fed during the ferment makes the first original gravity wrong. This is the one to compute alcohol with.",
        Inputs = [Volume, Gravity, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix, Fed, Water],
        Outputs = [Original],
        Sources = SweetenerFields.Sources,
        Cautions = [Caution.Foam],
        Examples = [WorkedExample.Of("volume=10 original-gravity=18°P sweetener=sucrose fed-masses=0.3;0.2498", "computed by hand: 0.5498 kg raise 10 L of 18 °P to 22 °P, SG 1.0919", new ExpectedResult("original-gravity-fed", 1.0919, 0.0003))],
        Compute = values =>
        {
            var sweetener = SweetenerFields.Read(values);
            if (values.Of(Fed).Sum() > values.Of(Volume))
            {
                throw values.Wrong(Fed, "at most a kilogram in all for each liter at the start, in kg");
            }

            var feeds = values.Of(Fed).Select(sweetener.Amount).Append(Liquid.Water(values.Of(Water) * 0.9982));
            return WorksheetAnswer.Of(Original.Is(StepFeeding.OriginalGravity(Liquid.OfMust(values.Volume(Volume), values.Gravity(Gravity)), feeds), gravity => gravity.Value));
        },
    };
}
