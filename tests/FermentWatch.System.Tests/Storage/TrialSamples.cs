using FermentWatch.Oenology.BenchTrials;
using Xunit;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Planned trials of an invented wine.</summary>
internal static class TrialSamples
{
    /// <summary>Three doses of sugar, a control and a twin, for three people.</summary>
    public static BenchTrial Sugar()
    {
        var planned = TrialPlanning.Plan(new TrialRequest(
            new BenchWine(18.6, 0.2, 0.996, 12.5, 3.45, 5.5),
            new TrialEquipment([new WeighingScale("pocket", 200, 0.01)], new DosingSyringe(10, 0.2)),
            TrialPlanKind.Ladder,
            [TrialFactor.Usual(TrialAdditive.Sucrose)],
            ["Wren", "Otis", "Pim"],
            100,
            25,
            7));
        Assert.NotNull(planned.Trial);
        return planned.Trial;
    }
}
