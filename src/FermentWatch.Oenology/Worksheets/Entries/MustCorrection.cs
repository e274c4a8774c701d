using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Must;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A must brought up or down to a gravity.</summary>
internal static class MustCorrection
{
    private static readonly NumberInput Volume = new("volume", "Volume of must", QuantityKind.Volume, 0.5, 5_000);
    private static readonly NumberInput Gravity = new("original-gravity", "Gravity measured", QuantityKind.Gravity, 1.000, 1.200, Help: "Before fermentation, at 20 °C.");
    private static readonly NumberInput Target = new("target-gravity", "Gravity wanted", QuantityKind.Gravity, 1.020, 1.175);

    private static readonly NumberOutput Sweetener = new("sweetener-mass", "Sweetener to add", QuantityKind.LargeMass, 3);
    private static readonly NumberOutput Water = new("water", "Water to add", QuantityKind.Volume, 2);
    private static readonly NumberOutput After = new("volume-after", "Volume after it", QuantityKind.Volume, 2);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "must-correction",
        Subject = WorksheetSubject.Must,
        Title = "Bring a must to a gravity",
        Purpose = "Sweetener to raise, or water to lower, the gravity of a must that has not begun to ferment.",
        Inputs = [Volume, Gravity, Target, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix],
        Outputs = [Sweetener, Water, After],
        Sources = SweetenerFields.Sources,
        Cautions = [Caution.Foam],
        Examples =
        [
            WorkedExample.Of("volume=10 original-gravity=18°P target-gravity=22°P sweetener=sucrose", "computed by hand: m (22 - 18)/(100 - 22)", new ExpectedResult("sweetener-mass", 0.5498, 0.002)),
            WorkedExample.Of("volume=20 original-gravity=26°P target-gravity=23°P sweetener=sucrose", "computed by hand: m (26 - 23)/23 = 2.8910 kg", new ExpectedResult("water", 2.896, 0.002)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var must = Liquid.OfMust(values.Volume(Volume), values.Gravity(Gravity));
        var (target, sweetener) = (values.Gravity(Target), SweetenerFields.Read(values));
        if (target < values.Gravity(Gravity))
        {
            var water = MustPlan.ToLower(must, target) ?? 0;
            return WorksheetAnswer.Of(Water.Is(Liquid.Water(water).Volume.Liters), After.Is((must + Liquid.Water(water)).Volume.Liters));
        }

        return MustPlan.ToRaise(must, target, sweetener) is { } kilograms && kilograms < 5 * must.Kilograms
            ? WorksheetAnswer.Of(Sweetener.Is(kilograms, kilograms * sweetener.RelativeTolerance), After.Is((must + sweetener.Amount(kilograms)).Volume.Liters))
            : WorksheetAnswer.Refuse("sweetener-too-thin", "This sweetener is too thin to reach the gravity. Take a richer one.");
    }
}
