using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Oenology.Tests.BenchTrials;

/// <summary>A wine, a bench and a panel that the tests vary.</summary>
internal static class BenchScenario
{
    public static BenchWine Wine { get; } = new(19, 0.2, 0.996, 12.5, 3.45, 5.5, 2.0, 0);

    public static WeighingScale Fine { get; } = new("fine", 100, 0.01);

    public static WeighingScale Kitchen { get; } = new("kitchen", 5000, 1);

    public static TrialEquipment Bench { get; } = new([Fine, Kitchen], new DosingSyringe(10, 0.2));

    public static TrialRequest Ladder(TrialAdditive additive, params double[] doses) => new(
        Wine,
        Bench,
        TrialPlanKind.Ladder,
        [new TrialFactor(additive, [.. doses], additive.FinestStepGramsPerLiter, doses[^1] * 2)],
        ["Ada", "Ben", "Cleo"],
        100,
        25,
        7);

    public static BenchTrial Planned(TrialRequest request)
    {
        var planned = TrialPlanning.Plan(request);
        Assert.True(planned.Trial is not null, string.Join(' ', planned.Faults.Select(fault => fault.Sentence).Concat(planned.Notices.Select(notice => notice.Code))));
        return planned.Trial;
    }
}
