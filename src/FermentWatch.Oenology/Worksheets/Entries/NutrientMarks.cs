using System.Globalization;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Nitrogen for the yeast, in parts.</summary>
internal static class NutrientMarks
{
    private static readonly NumberInput _volume = new("volume", "Volume of must", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput _original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.030, 1.175);
    private static readonly NumberInput _present = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.980, 1.175, Optional: true, Help: "Empty before inoculation.");
    private static readonly NumberInput _nitrogen = new("nitrogen", "Nitrogen in the must", QuantityKind.Nitrogen, 0, 600, Help: "Measured; honey must is often below 50 (from memory).");
    private static readonly NumberInput _target = new("nitrogen-target", "Nitrogen wanted", QuantityKind.Nitrogen, 50, 500, Optional: true, Help: "Empty for the middle of the range.");
    private static readonly YesNoInput _mead = new("mead", "Is it mead?", false);
    private static readonly NumberInput _organic = new("organic-dose", "Organic nutrient", QuantityKind.Dose, 0, 2, 0, Help: "As its label says.");
    private static readonly NumberInput _content = new("organic-nitrogen", "Nitrogen that yeast can take up, in the organic nutrient", QuantityKind.Percent, 0, 20, 4, Help: "Of its mass, from its label.");
    private static readonly NumberInput _parts = new("parts", "Parts", QuantityKind.Count, 1, 4, 4);
    private static readonly NumberInput _hours = new("hours-between", "Time from mark to mark without gravity readings", QuantityKind.Hours, 6, 96, 24);

    private static readonly NumberOutput _least = new("nitrogen-least", "Nitrogen advised, least", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput _usual = new("nitrogen-usual", "Nitrogen advised, middle", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput _most = new("nitrogen-most", "Nitrogen advised, most", QuantityKind.Nitrogen, 0);
    private static readonly NumberOutput _salt = new("diammonium-phosphate", "Diammonium phosphate in all", QuantityKind.Mass, 2);
    private static readonly NumberOutput _organicMass = new("organic-mass", "Organic nutrient in all", QuantityKind.Mass, 2);
    private static readonly NumberOutput _reached = new("nitrogen-reached", "Nitrogen reached", QuantityKind.Nitrogen, 0);
    private static readonly NumberListOutput _gravities = new("mark-gravities", "Gravity at each mark", QuantityKind.Gravity, 3);
    private static readonly TextOutput _marks = new("marks", "Additions");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "nutrient-marks",
        Subject = WorksheetSubject.Nutrients,
        Title = "Nitrogen for the yeast, in parts",
        Purpose = "How much nitrogen a must should hold, what to add, and at which gravity or hour. A range and never a guarantee: published results disagree.",
        Inputs = [_volume, _original, _present, _nitrogen, _target, _mead, _organic, _content, _parts, _hours, LawField.Input],
        Outputs = [_least, _usual, _most, _salt, _organicMass, _reached, _gravities, _marks],
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
        var (volume, original) = (values.Volume(_volume), values.Gravity(_original));
        var present = values.Maybe(_present) is { } now ? SpecificGravity.FromRatio(now) : original;
        if (present > original)
        {
            throw values.Wrong(_present, "at most the original gravity");
        }

        var range = NitrogenTarget.For(original, values.Of(_mead));
        var there = values.Of(_nitrogen) + (10 * values.Of(_organic) * values.Of(_content));
        var wanted = Math.Max(0, (values.Maybe(_target) ?? range.Usual) - there);
        var limit = GuardRails.AbsoluteLimit(Additive.DiammoniumPhosphate, values.Of(LawField.Input), DoseContext.Unknown)!.Highest.GramsPerLiter * volume.Liters;
        var needed = DiammoniumPhosphate.GramsFor(wanted, volume);
        var organic = values.Of(_organic) * volume.Liters;
        var plan = NutrientPlan.For(original, present, (int)Math.Round(values.Of(_parts)), values.Of(_hours), Math.Min(needed, limit), organic);
        var given = plan.Marks.Sum(mark => mark.InorganicGrams);
        return new WorksheetAnswer(
            [
                _least.Is(range.Lowest),
                _usual.Is(range.Usual),
                _most.Is(range.Highest),
                _salt.Is(given),
                _organicMass.Is(organic),
                _reached.Is(there + (1000 * given * DiammoniumPhosphate.NitrogenFraction / volume.Liters)),
                _gravities.Are([.. plan.Marks.Select(mark => mark.Gravity.Value)]),
                _marks.Is([.. plan.Marks.Select(Line)]),
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
            notices.Add(WorksheetNotice.Warning("diammonium-phosphate-limit", string.Create(CultureInfo.InvariantCulture, $"The lack would need {needed / volume.Liters:0.00} g/L diammonium phosphate; the limit is {limit / volume.Liters:0.00} g/L and no more is given. Fill the rest with organic nutrient.")));
        }

        return notices;
    }

    private static string Line(NutrientMark mark) => string.Create(
        CultureInfo.InvariantCulture,
        $"{mark.Code}: {100 * mark.SugarConsumed:0} % of the sugar gone, gravity {mark.Gravity.Value:0.000}, or hour {mark.Hours:0} from the first: {mark.InorganicGrams:0.0} g diammonium phosphate, {mark.OrganicGrams:0.0} g organic nutrient");
}
