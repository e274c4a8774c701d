using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Nitrogen for the yeast, in parts.</summary>
internal static class NutrientMarks
{
    private static readonly NumberInput VolumeInput = new("volume", "Volume of must", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.030, 1.175);
    private static readonly NumberInput Present = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.980, 1.175, Optional: true, Help: "Empty before inoculation.");
    private static readonly NumberInput Nitrogen = new("nitrogen", "Nitrogen in the must", QuantityKind.Nitrogen, 0, 600, Help: "Measured; honey must is often below 50 (from memory).");
    private static readonly NumberInput Target = new("nitrogen-target", "Nitrogen wanted", QuantityKind.Nitrogen, 50, 500, Optional: true, Help: "Empty for the middle of the range.");
    private static readonly YesNoInput Mead = new("mead", "Is it mead?", false);
    private static readonly NumberInput Organic = new("organic-dose", "Organic nutrient", QuantityKind.Dose, 0, 2, 0, Help: "As its label says.");
    private static readonly NumberInput Content = new("organic-nitrogen", "Nitrogen that yeast can take up, in the organic nutrient", QuantityKind.Percent, 0, 20, 4, Help: "Of its mass, from its label.");
    private static readonly NumberInput Parts = new("parts", "Parts", QuantityKind.Count, 1, 4, 4);
    private static readonly NumberInput Hours = new("hours-between", "Time from mark to mark without gravity readings", QuantityKind.Hours, 6, 96, 24);

    private static readonly NumberOutput Least = new("nitrogen-least", "Nitrogen advised, least", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput Usual = new("nitrogen-usual", "Nitrogen advised, middle", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput Most = new("nitrogen-most", "Nitrogen advised, most", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput Salt = new("diammonium-phosphate", "Diammonium phosphate in all", QuantityKind.Mass, 2);
    private static readonly NumberOutput OrganicMass = new("organic-mass", "Organic nutrient in all", QuantityKind.Mass, 2);
    private static readonly NumberOutput Reached = new("nitrogen-reached", "Nitrogen reached", QuantityKind.Nitrogen, 0);
    private static readonly NumberListOutput Gravities = new("mark-gravities", "Gravity at each mark", QuantityKind.Gravity, 3);
    private static readonly TextOutput Marks = new("marks", "Additions");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "nutrient-marks",
        Subject = WorksheetSubject.Nutrients,
        Title = "Nitrogen for the yeast, in parts",
        Purpose = "How much nitrogen a must should hold, what to add, and at which gravity or hour. A range and never a guarantee: published results disagree.",
        Inputs = [VolumeInput, Original, Present, Nitrogen, Target, Mead, Organic, Content, Parts, Hours, LawField.Input],
        Outputs = [Least, Usual, Most, Salt, OrganicMass, Reached, Gravities, Marks],
        Sources =
        [
            WorksheetSource.Computed("diammonium phosphate holds 21.2 % nitrogen"),
            WorksheetSource.Published("WeeksHenschke", "trouble more likely below 150 mg N/L"),
            WorksheetSource.Published("Watson", "140 to 500 mg N/L in the literature"),
            WorksheetSource.Published("MeadNitrogen", "150 mg N/L best in one study of mead"),
            WorksheetSource.Published("OIVA1", "0.3 g/L diammonium phosphate"),
            WorksheetSource.FromMemory("target by Brix; 0.96 g/L (United States), 1 g/L (European Union); nothing inorganic past 9 % vol"),
        ],
        Cautions = [Caution.Foam, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=23 original-gravity=1.090 nitrogen=100 nitrogen-target=160 law=oiv", "computed by hand: 60 x 23 / 212.1", new("diammonium-phosphate", 6.506, 0.01), new("nitrogen-reached", 160, 0.1)),
            WorkedExample.Saying("volume=20 original-gravity=1.100 present-gravity=1.040 nitrogen=50", "past a third of the sugar nothing inorganic is given", "inorganic-late"),
            WorkedExample.Saying("volume=20 original-gravity=1.100 nitrogen=25 law=oiv", "by hand: 225 mg N/L lacking need 1.1 g/L, over 0.3", "diammonium-phosphate-limit"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (volume, original) = (values.Volume(VolumeInput), values.Gravity(Original));
        var present = values.Maybe(Present) is { } now ? SpecificGravity.FromRatio(now) : original;
        if (present > original)
        {
            throw values.Wrong(Present, "at most the original gravity");
        }

        var range = NitrogenTarget.For(original, values.Of(Mead));
        var there = values.Of(Nitrogen) + (10 * values.Of(Organic) * values.Of(Content));
        var wanted = Math.Max(0, (values.Maybe(Target) ?? range.Usual) - there);
        var limit = GuardRails.AbsoluteLimit(Additive.DiammoniumPhosphate, values.Of(LawField.Input), DoseContext.Unknown)!.Highest.GramsPerLiter * volume.Liters;
        var needed = DiammoniumPhosphate.GramsFor(wanted, volume);
        var organic = values.Of(Organic) * volume.Liters;
        var plan = NutrientPlan.For(original, present, (int)Math.Round(values.Of(Parts)), values.Of(Hours), Math.Min(needed, limit), organic);
        var given = plan.Marks.Sum(mark => mark.InorganicGrams);
        return new WorksheetAnswer(
            [
                Least.Is(range.Lowest),
                Usual.Is(range.Usual),
                Most.Is(range.Highest),
                Salt.Is(given),
                OrganicMass.Is(organic),
                Reached.Is(there + (1000 * given * DiammoniumPhosphate.NitrogenFraction / volume.Liters)),
                Gravities.Are([.. plan.Marks.Select(mark => mark.Gravity.Value)]),
                Marks.Is([.. plan.Marks.Select(Line)]),
            ],
            Notices(plan, needed, limit, volume));
    }

    private static List<WorksheetNotice> Notices(NutrientPlan plan, double needed, double limit, Volume volume)
    {
        var notices = new List<WorksheetNotice>();
        if (plan.InorganicIsLate && needed > 0)
        {
            notices.Add(WorksheetNotice.Warning("inorganic-late", "More than a third of the sugar is gone, or more than 9 % vol is reached: yeast hardly takes up inorganic nitrogen now and it would feed spoilage. None is given."));
        }
        else if (needed > limit)
        {
            notices.Add(WorksheetNotice.Warning("diammonium-phosphate-limit", $"The lack would need {needed / volume.Liters:0.00} g/L diammonium phosphate; the limit is {limit / volume.Liters:0.00} g/L and no more is given. Fill the rest with organic nutrient."));
        }

        return notices;
    }

    private static Phrase Line(NutrientMark mark) => $"{(Phrase)mark.Code}: {100 * mark.SugarConsumed:0} % of the sugar gone, gravity {new Amount(mark.Gravity.Value, "SG", QuantityKind.Gravity, IsBare: true):0.000}, or hour {mark.Hours:0} from the first: {new Amount(mark.InorganicGrams, "g"):0.0} diammonium phosphate, {new Amount(mark.OrganicGrams, "g"):0.0} organic nutrient";
}
