using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Fields that the sheets of trials share.</summary>
internal static class BenchFields
{
    public static ChoiceInput<BenchAdditive> Additive { get; } = new(
        "additive",
        "Additive",
        [
            (BenchAdditive.Sucrose, "Table sugar"), (BenchAdditive.Dextrose, "Dextrose"), (BenchAdditive.Honey, "Honey"),
            (BenchAdditive.TartaricAcid, "Tartaric acid"), (BenchAdditive.MalicAcid, "Malic acid"), (BenchAdditive.CitricAcid, "Citric acid"),
            (BenchAdditive.LacticAcid, "Lactic acid, liquid"), (BenchAdditive.PotassiumBicarbonate, "Potassium bicarbonate"), (BenchAdditive.Tannin, "Tannin powder"),
        ]);

    public static NumberInput Strength { get; } = new("strength", "Active part of the product", QuantityKind.Percent, 5, 100, Optional: true, Help: "From the label. Empty: 88 % for lactic acid, 82 % sugars for honey, 91 % for dextrose, 100 % for the others.");

    public static NumberInput Division { get; } = new("scale-step", "Division of the scale", QuantityKind.Mass, 0.0001, 50, Help: "The smallest step of its display.");

    public static NumberInput Capacity { get; } = new("scale-capacity", "Capacity of the scale", QuantityKind.Mass, 1, 100000, 5000);

    public static NumberInput Tolerance { get; } = new("tolerance", "Allowed error", QuantityKind.Percent, 0.1, 50, 100 * TrialEquipment.UsualTolerance);

    public static TrialAdditive AdditiveOf(WorksheetValues values)
    {
        var code = values.Of(Additive) switch
        {
            BenchAdditive.Sucrose => TrialAdditive.Sucrose,
            BenchAdditive.Dextrose => TrialAdditive.Dextrose,
            BenchAdditive.Honey => TrialAdditive.Honey,
            BenchAdditive.TartaricAcid => TrialAdditive.Tartaric,
            BenchAdditive.MalicAcid => TrialAdditive.Malic,
            BenchAdditive.CitricAcid => TrialAdditive.Citric,
            BenchAdditive.LacticAcid => TrialAdditive.Lactic,
            BenchAdditive.PotassiumBicarbonate => TrialAdditive.PotassiumBicarbonate,
            _ => TrialAdditive.Tannin,
        };
        return values.Maybe(Strength) is { } percent ? code with { ActiveMassFraction = percent / 100 } : code;
    }

    public static WeighingScale Scale(WorksheetValues values)
    {
        var scale = new WeighingScale("scale", values.Of(Capacity), values.Of(Division));
        return scale.CapacityGrams >= 10 * scale.DivisionGrams
            ? scale
            : throw values.Wrong(Capacity, "at least ten divisions of the scale");
    }
}

/// <summary>Additives that the sheets of trials offer.</summary>
internal enum BenchAdditive
{
    Sucrose,
    Dextrose,
    Honey,
    TartaricAcid,
    MalicAcid,
    CitricAcid,
    LacticAcid,
    PotassiumBicarbonate,
    Tannin,
}
