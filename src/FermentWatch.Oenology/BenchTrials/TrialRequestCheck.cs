using System.Globalization;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Finds every fault of a request at once, each with field, value and what would be right.</summary>
public static class TrialRequestCheck
{
    /// <summary>The faults; empty when the trial can be planned.</summary>
    public static IReadOnlyList<InputFault> Faults(TrialRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return [.. OfWine(request.Wine), .. OfEquipment(request.Equipment), .. OfFactors(request), .. OfPanel(request)];
    }

    internal static IEnumerable<InputFault> OfWine(BenchWine wine) =>
    [
        .. Outside("volume", wine.VolumeLiters, 0.2, 10000, "L"),
        .. Outside("volume-error", wine.VolumeErrorLiters, 0, wine.VolumeLiters, "L"),
        .. Outside("gravity", wine.SpecificGravity, 0.97, 1.2, "(20/20 °C)"),
        .. Outside("alcohol", wine.AlcoholPercent, 0, 25, "% vol"),
        .. Outside("ph", wine.Ph, 2.5, 4.8, string.Empty),
        .. Outside("titratable-acidity", wine.TitratableAcidityGramsPerLiter, 0, 30, "g/L"),
        .. Outside("sugar", wine.SugarGramsPerLiter, 0, 500, "g/L"),
        .. Outside("tannin", wine.TanninGramsPerLiter, 0, 5, "g/L"),
    ];

    internal static IEnumerable<InputFault> OfScales(IReadOnlyList<WeighingScale> scales)
    {
        if (scales.Count == 0)
        {
            yield return new InputFault("scales", string.Empty, $"{new FieldName("scales")} is empty; at least one scale with capacity and division is needed.");
        }

        foreach (var fault in scales.SelectMany(scale => (InputFault[])
        [
            .. Outside("scale-division", scale.DivisionGrams, 0.0001, 50, "g"),
            .. Outside("scale-capacity", scale.CapacityGrams, Math.Max(1, 10 * scale.DivisionGrams), 500000, "g"),
            .. Outside("scale-repeatability", scale.RepeatabilityGrams, 0, 100, "g"),
        ]))
        {
            yield return fault;
        }
    }

    private static IEnumerable<InputFault> OfEquipment(TrialEquipment equipment) =>
    [
        .. OfScales(equipment.Scales),
        .. Outside("syringe-capacity", equipment.Syringe.CapacityMilliliters, 0.5, 200, "mL"),
        .. Outside("syringe-division", equipment.Syringe.DivisionMilliliters, 0.001, equipment.Syringe.CapacityMilliliters, "mL"),
        .. Outside("syringe-empty", equipment.Syringe.EmptyGrams, 0, 500, "g"),
        .. Outside("tolerance", equipment.Tolerance, 0.001, 0.5, "(share)"),
        .. Outside("cylinder-division", equipment.CylinderDivisionMilliliters, 0.01, 50, "mL"),
    ];

    private static IEnumerable<InputFault> OfFactors(TrialRequest request)
    {
        var needed = request.Kind is TrialPlanKind.Grid ? 2 : 1;
        if (request.Factors.Length != needed && !(request.Kind is TrialPlanKind.FreeGlass && request.Factors.Length is 1 or 2))
        {
            yield return Fault("factors", request.Factors.Length, $"{needed} for this plan");
            yield break;
        }

        foreach (var factor in request.Factors)
        {
            var code = factor.Additive.Code;
            foreach (var fault in (InputFault[])
            [
                .. Outside($"{code}-finest-step", factor.FinestStepGramsPerLiter, 0.001, 100, "g/L"),
                .. Outside($"{code}-largest", factor.LargestGramsPerLiter, factor.FinestStepGramsPerLiter, 300, "g/L"),
                .. Outside($"{code}-active-fraction", factor.Additive.ActiveMassFraction, 0.05, 1, "(share)"),
                .. factor.DosesGramsPerLiter.SelectMany(dose => Outside($"{code}-dose", dose, 0, factor.LargestGramsPerLiter, "g/L")),
            ])
            {
                yield return fault;
            }

            var doses = factor.DosesGramsPerLiter;
            if (doses.Length == 0 || doses.Zip(doses.Skip(1)).Any(pair => pair.Second - pair.First < factor.FinestStepGramsPerLiter * 0.999)
                || doses.Where(dose => dose > 0).Any(dose => dose < factor.FinestStepGramsPerLiter * 0.999))
            {
                yield return new InputFault(
                    $"{code}-doses",
                    string.Join("; ", doses.Select(dose => dose.ToString(CultureInfo.InvariantCulture))),
                    $"{new FieldName($"{code}-doses")} must be one or more rising doses, at least {new Amount(factor.FinestStepGramsPerLiter, "g/L")} apart and from none.");
            }
        }

        var glasses = FlightPlanning.GlassesOf(request);
        if (glasses > ServingOrders.MostGlasses)
        {
            yield return Fault("glasses", glasses, $"at most {ServingOrders.MostGlasses} a flight, control and twin counted");
        }
    }

    private static IEnumerable<InputFault> OfPanel(TrialRequest request)
    {
        foreach (var fault in (InputFault[])
        [
            .. Outside("glass-volume", request.GlassMilliliters, 10, 2000, "mL"),
            .. Outside("pour", request.PourMilliliters, 5, 100, "mL"),
        ])
        {
            yield return fault;
        }

        if (request.Tasters.Length is < 1 or > 20 || request.Tasters.Distinct(StringComparer.Ordinal).Count() != request.Tasters.Length || request.Tasters.Any(string.IsNullOrWhiteSpace))
        {
            yield return Fault("tasters", request.Tasters.Length, "1 to 20 different names");
        }
        else if (request.PourMilliliters * request.Tasters.Length > request.GlassMilliliters)
        {
            yield return Fault("glass-volume", request.GlassMilliliters, $"at least {new Amount(request.PourMilliliters * request.Tasters.Length, "mL")}: {request.Tasters.Length} pours of {new Amount(request.PourMilliliters, "mL")}");
        }
    }

    internal static IEnumerable<InputFault> Outside(string field, double? value, double low, double high, string unit) =>
        value is not { } number || (double.IsFinite(number) && number >= low && number <= high)
            ? []
            : [Fault(field, number, $"from {new Amount(low, unit, IsBare: true)} to {new Amount(high, unit)}", unit)];

    private static InputFault Fault(string field, double value, Phrase allowed, string unit = "") => new(
        field,
        value.ToString(CultureInfo.InvariantCulture),
        $"{new FieldName(field)} is {new Amount(value, unit, IsBare: true)}; it must be {allowed}.");
}
