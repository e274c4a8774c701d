using System.Collections.Immutable;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>The order of the work: tannin first and wait, stabilize before sugar, acid and sugar up to bottling, sulfite again after pH moved.</summary>
internal static class WorkOrder
{
    private const double LowestDrawOffLiters = 1;
    private const double HighestDrawOffLiters = 2;
    private const double WaitHours = 24;

    public static ImmutableArray<WorkStep> Of(ScaleUpRequest request, IReadOnlyList<BatchAddition> additions, GlassPrediction expected)
    {
        var wine = request.Wine;
        var steps = new List<WorkStep>
        {
            WorkStep.Of(WorkStepCodes.MeasureVolume, new NoticeValue("volume", wine.VolumeLiters, "L"), new NoticeValue("error", wine.VolumeErrorLiters, "L")),
            WorkStep.Of(WorkStepCodes.KeepWinner, new NoticeValue("kept", SampleBudget.KeptMilliliters, "mL")),
            WorkStep.Of(WorkStepCodes.Degas),
        };

        var given = additions.Where(addition => addition.Product.Shown is not null).ToList();
        foreach (var tannin in given.Where(addition => addition.Additive.Role is AdditiveRole.Tannin))
        {
            steps.Add(WorkStep.Of(WorkStepCodes.TanninFirst));
            steps.AddRange(Dosing(tannin, wine.VolumeLiters, HeldTrial.LowestDays * 24));
            steps.Add(WorkStep.Of(WorkStepCodes.WaitForTannin, new NoticeValue("lowest", HeldTrial.LowestDays, "d"), new NoticeValue("highest", HeldTrial.HighestDays, "d")));
        }

        var others = given.Where(addition => addition.Additive.Role is not AdditiveRole.Tannin).ToList();
        var movesPh = others.Any(addition => addition.Additive.Role is AdditiveRole.Acid or AdditiveRole.Deacidifier);
        var ferments = others.Any(addition => addition.Additive.CanFerment);
        if (others.Count > 0)
        {
            steps.Add(WorkStep.Of(WorkStepCodes.UpToBottling));
        }

        foreach (var addition in others)
        {
            if (addition.Additive.CanFerment && request.IsStabilized is not true)
            {
                steps.Add(WorkStep.Of(WorkStepCodes.StabilizeFirst, new NoticeValue("lowest", 24, "h"), new NoticeValue("highest", 48, "h")));
            }

            steps.AddRange(Dosing(addition, wine.VolumeLiters, WaitHours));
        }

        if (expected.SpecificGravity is { } gravity)
        {
            steps.Add(WorkStep.Of(WorkStepCodes.CheckGravity, new NoticeValue("gravity", gravity.Value.Value, "(20/20 °C)"), new NoticeValue("error", gravity.Tolerance, "(20/20 °C)")));
        }

        if (movesPh)
        {
            steps.Add(expected is { AcidityLowGramsPerLiter: { } low, AcidityHighGramsPerLiter: { } high }
                ? WorkStep.Of(WorkStepCodes.CheckAcidity, new NoticeValue("lowest", low, "g/L"), new NoticeValue("highest", high, "g/L"))
                : WorkStep.Of(WorkStepCodes.CheckAcidity));
            steps.Add(WorkStep.Of(WorkStepCodes.SulfiteAgain));
        }

        steps.Add(WorkStep.Of(WorkStepCodes.CompareWithKept, new NoticeValue("kept", SampleBudget.KeptMilliliters, "mL")));
        if (ferments)
        {
            steps.Add(WorkStep.Of(WorkStepCodes.WatchAfterSweetening, new NoticeValue("lowest", 14, "d"), new NoticeValue("temperature", 18, "°C")));
        }

        return [.. steps];
    }

    // A tenth of the batch, between 1 and 2 L, or half of a small one.
    private static IEnumerable<WorkStep> Dosing(BatchAddition addition, double liters, double waitHours)
    {
        var drawn = Math.Min(liters / 2, Math.Clamp(liters / 10, LowestDrawOffLiters, HighestDrawOffLiters));
        var code = addition.Additive.Code;
        yield return WorkStep.Of(WorkStepCodes.Dissolve, new NoticeValue("drawn", drawn, "L"), new NoticeValue("highest-temperature", 40, "°C"));
        if (addition is { FirstGrams: { } first, RestGrams: { } rest })
        {
            yield return WorkStep.Of(WorkStepCodes.FirstPortion, new NoticeValue(code, (double)first, "g"));
            yield return WorkStep.Of(WorkStepCodes.Return);
            yield return WorkStep.Of(WorkStepCodes.WaitAndTaste, new NoticeValue("wait", waitHours, "h"));
            yield return WorkStep.Of(WorkStepCodes.Rest, new NoticeValue(code, (double)rest, "g"));
        }
        else
        {
            yield return WorkStep.Of(WorkStepCodes.AllAtOnce, new NoticeValue(code, addition.Product.Taken, "g"));
            yield return WorkStep.Of(WorkStepCodes.Return);
            yield return WorkStep.Of(WorkStepCodes.WaitAndTaste, new NoticeValue("wait", waitHours, "h"));
        }
    }
}
