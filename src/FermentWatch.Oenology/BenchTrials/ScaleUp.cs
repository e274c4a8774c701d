using System.Collections.Immutable;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>From the winning glass to the batch.</summary>
public static class ScaleUp
{
    private const double FirstShare = 0.75;

    /// <summary>Plans the dosing of a batch.</summary>
    /// <param name="request">The batch, the doses and the scales.</param>
    /// <param name="ph">Predicts pH; null for no prediction.</param>
    /// <remarks>
    /// <para><b>Equation.</b> Active part of each additive xᵢ = cᵢ·V/(1 − Σ vⱼcⱼ), so that the finished liter holds cᵢ though all additives bring
    /// volume; product pᵢ = xᵢ/strength, rounded once to the division of the finest scale that carries it. Achieved dose from the rounded
    /// amounts. Error: √((scale error·√weighings/pᵢ)² + (volume error/V)²).</para>
    /// <para><b>Valid.</b> Doses up to 300 g/L in all. <b>Source.</b> Mass balance; scale error by [USP41]. <b>Check.</b> ScaleUpTests: 500 random
    /// doses against exact fractions - rounding never moves an amount by more than half a division, none below a division is shown.
    /// Limits: a dose beyond the absolute limit of its guard rail gets no amount, one beyond the recommended a warning.</para>
    /// </remarks>
    public static ScaledUp Plan(ScaleUpRequest request, PhModel? ph = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        var faults = Faults(request);
        if (faults.Count > 0)
        {
            return new(null, faults, []);
        }

        var limits = DoseLimits.Notices(DoseLimits.Assess(request.Wine, request.Doses, request.Law)).ToList();
        var refusals = limits.Where(notice => notice.Weight is NoticeWeight.Refusal).ToImmutableArray();
        return refusals.IsEmpty ? new(Plan(request, WineShare(request.Doses), limits, ph), [], []) : new(null, [], refusals);
    }

    private static double WineShare(IEnumerable<AdditiveDose> doses) => 1 - doses.Sum(dose => dose.Additive.MillilitersPerActiveGram * dose.GramsPerLiter / 1000);

    private static ScaleUpPlan Plan(ScaleUpRequest request, double wineShare, List<BenchNotice> limits, PhModel? ph)
    {
        var liters = request.Wine.VolumeLiters;
        var notices = new List<BenchNotice>([BenchNotice.Note(BenchNoticeCodes.MeasureFirst), .. limits]);

        // Tannin first, then what moves pH, then sugar.
        var rounded = request.Doses.OrderBy(dose => dose.Additive.Role switch
        {
            AdditiveRole.Tannin => 0,
            AdditiveRole.Deacidifier => 1,
            AdditiveRole.Acid => 2,
            _ => 3,
        }).Select(dose =>
        {
            var product = dose.GramsPerLiter * liters / wineShare / dose.Additive.ActiveMassFraction;
            var scale = request.Scales.Where(scale => scale.CapacityGrams >= product).MinBy(scale => (scale.ErrorGrams, scale.CapacityGrams))
                ?? request.Scales.MaxBy(scale => scale.CapacityGrams)!;
            return (Dose: dose, Scale: scale, Amount: RoundedAmount.Of(product, scale.DivisionGrams));
        }).ToList();
        var after = liters + rounded.Sum(entry => entry.Amount.Taken * entry.Dose.Additive.MillilitersPerGram / 1000);
        var additions = rounded.Select(entry => Addition(entry.Dose, entry.Scale, entry.Amount, after, request, notices)).ToImmutableArray();
        var achieved = additions.Select(addition => new AdditiveDose(addition.Additive, addition.AchievedGramsPerLiter)).ToList();
        var expected = GlassPrediction.Of(request.Wine, achieved, 0, ph);
        notices.AddRange(Cautions(request));
        var wineAfter = request.Wine with
        {
            VolumeLiters = after,
            SpecificGravity = expected.SpecificGravity?.Value.Value,
            AlcoholPercent = expected.AlcoholPercent,
            Ph = expected.Ph?.Value,
            TitratableAcidityGramsPerLiter = (expected.AcidityLowGramsPerLiter + expected.AcidityHighGramsPerLiter) / 2,
            SugarGramsPerLiter = expected.SugarGramsPerLiter,
            TanninGramsPerLiter = expected.TanninGramsPerLiter,
        };
        return new(additions, after, expected, wineAfter, WorkOrder.Of(request, additions, expected), [.. notices]);
    }

    private static BatchAddition Addition(AdditiveDose dose, WeighingScale scale, RoundedAmount amount, double litersAfter, ScaleUpRequest request, List<BenchNotice> notices)
    {
        var additive = dose.Additive;
        var weighings = Math.Max(1, (int)Math.Ceiling(amount.Taken / scale.CapacityGrams));
        if (amount.Shown is null)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.BelowStep, new NoticeValue(additive.Code, dose.GramsPerLiter, "g/L"), new NoticeValue("division", scale.DivisionGrams, "g")));
        }
        else if (amount.Taken < scale.SmallestWeighableGrams(request.Tolerance))
        {
            notices.Add(BenchNotice.Warning(
                BenchNoticeCodes.BelowSmallestWeighable,
                new NoticeValue(additive.Code, amount.Taken, "g"),
                new NoticeValue("smallest-weighable", scale.SmallestWeighableGrams(request.Tolerance), "g"),
                new NoticeValue("error", 100 * scale.ErrorGrams / amount.Taken, "%")));
        }

        if (weighings > 1)
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.OverCapacity, new NoticeValue(additive.Code, amount.Taken, "g"), new NoticeValue("capacity", scale.CapacityGrams, "g"), new NoticeValue("weighings", weighings, string.Empty)));
        }

        var first = amount.Shown is { } shown ? RoundedAmount.Of(FirstShare * (double)shown, scale.DivisionGrams).Shown : null;
        var rest = amount.Shown - first;
        var isParted = first >= amount.Step && rest >= amount.Step;
        var achieved = amount.Taken * additive.ActiveMassFraction / litersAfter;
        var error = amount.Taken > 0
            ? achieved * Math.Sqrt(Math.Pow(scale.ErrorGrams * Math.Sqrt(weighings) / amount.Taken, 2) + Math.Pow(request.Wine.VolumeErrorLiters / request.Wine.VolumeLiters, 2))
            : dose.GramsPerLiter;
        return new(
            additive,
            dose.GramsPerLiter,
            amount,
            scale.Name,
            weighings,
            isParted ? first : null,
            isParted ? rest : null,
            additive.LiquidGramsPerMilliliter is { } density ? amount.Taken / density : null,
            achieved,
            error);
    }

    private static IEnumerable<BenchNotice> Cautions(ScaleUpRequest request)
    {
        var roles = request.Doses.Select(dose => dose.Additive.Role).ToHashSet();
        if (request.Doses.Any(dose => dose.Additive.CanFerment) && request.IsStabilized is not true)
        {
            yield return BenchNotice.Warning(BenchNoticeCodes.StabilizeBeforeSugar);
        }

        if (roles.Contains(AdditiveRole.Deacidifier))
        {
            yield return BenchNotice.Warning(BenchNoticeCodes.CarbonateFoam);
        }

        if (roles.Contains(AdditiveRole.Acid))
        {
            yield return BenchNotice.Note(BenchNoticeCodes.AcidBurns);
        }

        if (roles.Contains(AdditiveRole.Tannin))
        {
            yield return BenchNotice.Note(BenchNoticeCodes.TanninNeedsTime, new NoticeValue("lowest", HeldTrial.LowestDays, "d"), new NoticeValue("highest", HeldTrial.HighestDays, "d"));
        }
    }

    private static List<InputFault> Faults(ScaleUpRequest request)
    {
        var faults = new List<InputFault>([.. TrialRequestCheck.OfWine(request.Wine), .. TrialRequestCheck.OfScales(request.Scales)]);
        if (request.Doses.IsEmpty || request.Doses.Select(dose => dose.Additive.Code).Distinct().Count() != request.Doses.Length)
        {
            faults.Add(new InputFault("doses", string.Empty, $"{new FieldName("doses")} must be one or more, each additive once."));
        }

        foreach (var dose in request.Doses)
        {
            faults.AddRange(TrialRequestCheck.Outside($"{dose.Additive.Code}-dose", dose.GramsPerLiter, 1e-6, 300, "g/L"));
            faults.AddRange(TrialRequestCheck.Outside($"{dose.Additive.Code}-active-fraction", dose.Additive.ActiveMassFraction, 0.05, 1, "(share)"));
        }

        faults.AddRange(TrialRequestCheck.Outside("tolerance", request.Tolerance, 0.001, 0.5, "(share)"));
        if (faults.Count == 0 && WineShare(request.Doses) < 0.5)
        {
            faults.Add(new InputFault("doses", string.Empty, $"{new FieldName("doses")} are so large that less than half of the finished volume would be wine; they must be smaller."));
        }

        return faults;
    }
}
