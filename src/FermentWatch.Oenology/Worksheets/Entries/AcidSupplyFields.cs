using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>An acid as it stands on the shelf.</summary>
internal enum ShelfAcid
{
    Tartaric,
    Malic,
    Citric,
    CitricMonohydrate,
    LacticLiquid,
    LemonJuice,
}

/// <summary>Fields of the acid that is added, with its limits and its words.</summary>
internal static class AcidSupplyFields
{
    private const double MonohydrateShare = 192.123 / 210.138;

    public static readonly ChoiceInput<ShelfAcid> Acid = new(
        "acid",
        "Acid",
        [
            (ShelfAcid.Tartaric, "Tartaric acid"),
            (ShelfAcid.Malic, "Malic acid"),
            (ShelfAcid.Citric, "Citric acid, water-free"),
            (ShelfAcid.CitricMonohydrate, "Citric acid monohydrate"),
            (ShelfAcid.LacticLiquid, "Lactic acid, liquid"),
            (ShelfAcid.LemonJuice, "Lemon juice"),
        ]);

    public static readonly NumberInput Strength = new("acid-strength", "Strength of the liquid acid, by mass", QuantityKind.Percent, 50, 95, Optional: true, Help: "On the label; lactic acid is sold as 80 to 88 %.");
    public static readonly NumberInput Density = new("acid-density", "Density of the liquid acid", QuantityKind.Density, 1000, 1400, Optional: true, Help: "On the label; about 1200 kg/m³ for lactic acid of 80 to 88 % (from memory).");
    public static readonly ChoiceInput<Law> Law = LawField.Input;

    public static readonly NumberOutput Dose = new("dose", "Dose", QuantityKind.Dose, 2);
    public static readonly NumberOutput Mass = new("mass", "Mass for the volume", QuantityKind.Mass, 1);
    public static readonly NumberOutput LiquidVolume = new("liquid-volume", "Volume of liquid acid or juice", QuantityKind.SmallVolume, 1);
    public static readonly NumberOutput First = new("first-part", "First part: half of it, then mix, wait and measure", QuantityKind.Mass, 1);

    /// <summary>The acid with its strength.</summary>
    public static AcidSupply Supply(WorksheetValues values) => values.Of(Acid) switch
    {
        ShelfAcid.Tartaric => AcidSupply.Powder(WeakAcid.Tartaric),
        ShelfAcid.Malic => AcidSupply.Powder(WeakAcid.Malic),
        ShelfAcid.Citric => AcidSupply.Powder(WeakAcid.Citric),
        ShelfAcid.CitricMonohydrate => AcidSupply.Powder(WeakAcid.Citric, MonohydrateShare),
        ShelfAcid.LacticLiquid => AcidSupply.Liquid(
            WeakAcid.Lactic,
            values.Needed(Strength, "because the acid is a liquid") / 100,
            values.Needed(Density, "because the acid is a liquid") / 1000),
        _ => AcidSupply.LemonJuice(),
    };

    /// <summary>Dose and masses as results.</summary>
    public static IReadOnlyList<WorksheetResult> Results(AcidSupply supply, double gramsPerLiter, double liters)
    {
        var grams = gramsPerLiter * liters;
        var results = new List<WorksheetResult>
        {
            Dose.Is(gramsPerLiter, supply.RelativeError * gramsPerLiter),
            Mass.Is(grams, supply.RelativeError * grams),
            First.Is(grams / 2),
        };
        if (supply.GramsPerMilliliter is { } density)
        {
            results.Insert(2, LiquidVolume.Is(grams / density, supply.RelativeError * grams / density));
        }

        return results;
    }

    /// <summary>What the guard rails say to acid that is added: a refusal, a warning, or nothing.</summary>
    public static IReadOnlyList<WorksheetNotice> Guarded(Law law, AcidMixture added)
    {
        var rise = added.MolesPerLiter.Sum(part => part.Value * part.Key.Protons) * AcidBasis.Tartaric.GramsPerEquivalent();
        var citric = added.GramsPerLiterOf(WeakAcid.Citric);
        var assessed = new List<DoseAssessment> { GuardRails.Assess(Additive.Acid, MassConcentration.FromGramsPerLiter(rise), law, DoseContext.Unknown) };
        if (citric > 0)
        {
            assessed.Add(GuardRails.Assess(Additive.CitricAcid, MassConcentration.FromGramsPerLiter(citric), law, DoseContext.Unknown));
        }

        return [.. assessed.Select(one => one.Notice).OfType<WorksheetNotice>()];
    }

    /// <summary>Why a dose is not given, or null.</summary>
    public static WorksheetAnswer? Refusal(IReadOnlyList<WorksheetNotice> guarded) => guarded.Any(notice => notice.Weight is NoticeWeight.Refusal)
        ? new WorksheetAnswer([], [.. guarded.Where(notice => notice.Weight is NoticeWeight.Refusal)])
        : null;

    /// <summary>How this acid tastes and keeps.</summary>
    public static WorksheetNotice TasteOf(ShelfAcid acid) => WorksheetNotice.Note("taste", Taste(acid));

    private static Phrase Taste(ShelfAcid acid) => acid switch
    {
        ShelfAcid.Tartaric => "Tartaric acid is hard and linear; part of it can settle as crystals in the cold.",
        ShelfAcid.Malic => "Malic acid is rounder, like green apple; malolactic bacteria turn it into lactic acid.",
        ShelfAcid.LacticLiquid => "Lactic acid is soft. The liquid holds bound acid that frees slowly: measure again after a week (from memory).",
        ShelfAcid.LemonJuice => "Lemon juice stands in for citric acid and brings its flavor; its strength differs by a quarter.",
        _ => "Citric acid is sharp and brief; add it after malolactic conversion, for bacteria make vinegar and butter notes of it.",
    };
}
