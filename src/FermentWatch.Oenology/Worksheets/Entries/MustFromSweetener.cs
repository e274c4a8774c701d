using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Must;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Honey, sugar or concentrate and water for a must.</summary>
internal static class MustFromSweetener
{
    private static readonly NumberInput Volume = new("volume", "Volume of must", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput Target = new("target-gravity", "Gravity wanted", QuantityKind.Gravity, 1.020, 1.175);
    private static readonly NumberInput Juice = new("juice-volume", "Juice already there", QuantityKind.Volume, 0, 10_000, 0);
    private static readonly NumberInput JuiceGravity = new("juice-gravity", "Gravity of that juice", QuantityKind.Gravity, 1.000, 1.200, 1.045);

    private static readonly NumberOutput Sweetener = new("sweetener-mass", "Sweetener", QuantityKind.LargeMass, 2);
    private static readonly NumberOutput SweetenerVolume = new("sweetener-volume", "Its volume", QuantityKind.Volume, 2);
    private static readonly NumberOutput Water = new("water", "Water, to top up with at the end", QuantityKind.Volume, 2);
    private static readonly NumberOutput Least = new("yeast-least", "Dry yeast, at least", QuantityKind.Mass, 1);
    private static readonly NumberOutput Most = new("yeast-most", "Dry yeast, at most", QuantityKind.Mass, 1);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "must-from-sweetener",
        Subject = WorksheetSubject.Must,
        Title = "Honey, sugar or concentrate for a must",
        Purpose = "How much sweetener, water and yeast make a must of a wanted volume and gravity. Add most of the water, mix well, measure, then correct: honey and juice differ.",
        Inputs = [Volume, Target, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix, Juice, JuiceGravity],
        Outputs = [Sweetener, SweetenerVolume, Water, Least, Most],
        Sources = [.. SweetenerFields.Sources, WorksheetSource.CommonPractice("0.2 to 0.5 g/L dry yeast")],
        Cautions = [Caution.GlassVessel, Caution.HoneyInfants, Caution.CarbonDioxide],
        Examples =
        [
            WorkedExample.Of("volume=4.824 target-gravity=25°P sweetener=sucrose", "computed by hand: 1.3309 kg sugar in 4 L water make 4.824 L of 25 °P", new("sweetener-mass", 1.3309, 0.003), new("water", 4.0, 0.005)),
            WorkedExample.Saying("volume=5 target-gravity=1.150 sweetener=syrup sweetener-brix=20", "a syrup of 20 °P is thinner than the must", "must-impossible"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var sweetener = SweetenerFields.Read(values);
        var (volume, target) = (values.Volume(Volume), values.Gravity(Target));
        if (MustPlan.For(target, volume, sweetener, Liquid.OfMust(values.Volume(Juice), values.Gravity(JuiceGravity))) is not { } plan)
        {
            return WorksheetAnswer.Refuse("must-impossible", "No such must can be made: the juice alone is too much or too rich for it, or the sweetener is too thin. Take less juice, another volume or a richer sweetener.");
        }

        var yeast = PitchRate.Of(volume, target);
        var results = new List<WorksheetResult> { Sweetener.Is(plan.SweetenerKilograms, plan.SweetenerKilograms * sweetener.RelativeTolerance) };
        if (sweetener.KilogramsPerLiter is { } density)
        {
            results.Add(SweetenerVolume.Is(plan.SweetenerKilograms / density, plan.SweetenerKilograms / density * sweetener.RelativeTolerance));
        }

        results.AddRange([Water.Is(Liquid.Water(plan.WaterKilograms).Volume.Liters), Least.Is(yeast.LowestGrams), Most.Is(yeast.HighestGrams)]);
        return new WorksheetAnswer(results, [WorksheetNotice.Note("before-inoculation", $"Before the yeast: acid by 'acid-before-inoculation', sulfite by 'sulfite-before-inoculation' (and a day of waiting after it); not before a wild or malolactic start. Temper the rehydrated yeast to within {new Amount(10, "°C", QuantityKind.TemperatureDifference):0} of the must.")]);
    }
}
