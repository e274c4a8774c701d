using System.Collections.Immutable;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Holds the doses of a trial or a batch against the guard rails of their additives.</summary>
internal static class DoseLimits
{
    /// <summary>Each dose that has a guard rail, judged with what is already in the wine.</summary>
    public static ImmutableArray<DoseAssessment> Assess(BenchWine wine, IEnumerable<AdditiveDose> doses, Law law) =>
    [
        .. doses.Select(dose => (Dose: dose, Counted: Counted(dose)))
            .Where(entry => entry.Counted is not null)
            .Select(entry => GuardRails.Assess(
                entry.Counted!.Value.Additive,
                MassConcentration.FromGramsPerLiter(entry.Counted.Value.GramsPerLiter),
                law,
                new DoseContext(
                    MassConcentration.FromGramsPerLiter(entry.Dose.Additive.Role is AdditiveRole.Tannin ? wine.TanninGramsPerLiter : 0),
                    SugarGramsPerLiter: wine.SugarGramsPerLiter))),
    ];

    /// <summary>What is said to a dose beyond a guard rail; nothing to one within.</summary>
    public static IEnumerable<BenchNotice> Notices(IEnumerable<DoseAssessment> assessments) => assessments
        .Where(assessment => assessment.Exceeded is not null)
        .Select(assessment =>
        {
            ImmutableArray<NoticeValue> values =
            [
                new("dose", assessment.Total.MilligramsPerLiter, "mg/L"),
                new("limit", assessment.Exceeded!.Highest.MilligramsPerLiter, "mg/L"),
            ];
            return assessment.IsRefused
                ? BenchNotice.Refusal(BenchNoticeCodes.BeyondLimit, values) with { Words = assessment.Words }
                : BenchNotice.Warning(BenchNoticeCodes.BeyondRecommended, values) with { Words = assessment.Words };
        });

    // Acids count as tartaric, citric acid as itself; sugar has no guard rail here.
    private static (Additive Additive, double GramsPerLiter)? Counted(AdditiveDose dose) => dose.Additive.Role switch
    {
        AdditiveRole.Acid when dose.Additive.Code == TrialAdditive.Citric.Code => (Additive.CitricAcid, dose.GramsPerLiter),
        AdditiveRole.Acid => (Additive.Acid, dose.GramsPerLiter * dose.Additive.AcidityPerGramHigh),
        AdditiveRole.Deacidifier => (Additive.PotassiumBicarbonate, dose.GramsPerLiter),
        AdditiveRole.Tannin => (Additive.TanninPowder, dose.GramsPerLiter),
        _ => null,
    };
}
