using System.Collections.Immutable;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What must be said beside a flight.</summary>
internal static class TrialNotices
{
    private const double CoarseDivisionGrams = 0.5;

    public static ImmutableArray<BenchNotice> Of(BenchTrial trial, TrialFlight flight)
    {
        var request = trial.Request;
        var budget = SampleBudget.Of(trial, flight);
        var notices = new List<BenchNotice>
        {
            BenchNotice.Note(BenchNoticeCodes.MeasureFirst),
            BenchNotice.Note(BenchNoticeCodes.ServeAlike, new NoticeValue("pour", request.PourMilliliters, "mL"), new NoticeValue("most-glasses", ServingOrders.MostGlasses, string.Empty), new NoticeValue("rest", 2, "min")),
            BenchNotice.Note(BenchNoticeCodes.NotBlindAlone),
            BenchNotice.Note(BenchNoticeCodes.TopUp, new NoticeValue("wine", budget.WineMilliliters, "mL")),
            budget.EthanolGramsPerTaster is { } grams
                ? BenchNotice.Warning(BenchNoticeCodes.AlcoholServed, new NoticeValue("ethanol", grams, "g"), new NoticeValue("poured", budget.PouredMillilitersPerTaster, "mL"))
                : BenchNotice.Warning(BenchNoticeCodes.AlcoholUnknown, new NoticeValue("poured", budget.PouredMillilitersPerTaster, "mL")),
        };
        if (budget.ShareOfBatch > SampleBudget.UsualShare)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.LargeShare, new NoticeValue("share", 100 * budget.ShareOfBatch, "%"), new NoticeValue("usual", 100 * SampleBudget.UsualShare, "%")));
        }

        if (flight.Serving is { Balance.IsFull: false } serving)
        {
            notices.Add(BenchNotice.Note(
                BenchNoticeCodes.OrderAsBalancedAsCanBe,
                new NoticeValue("tasters", request.Tasters.Length, string.Empty),
                new NoticeValue("position-difference", serving.Balance.PositionDifference, string.Empty),
                new NoticeValue("neighbor-difference", serving.Balance.NeighborDifference, string.Empty),
                new NoticeValue("full-at-multiples-of", serving.Balance.TastersForFullBalance, string.Empty)));
        }

        if (request.Tasters.Length < DifferenceTest.FewestTasters(DifferenceMethod.DuoTrio))
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.FewTasters, new NoticeValue("tasters", request.Tasters.Length, string.Empty)));
        }

        foreach (var scale in request.Equipment.Scales.Where(scale => scale.DivisionGrams >= CoarseDivisionGrams))
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.SlowTrickle, new NoticeValue("division", scale.DivisionGrams, "g")));
        }

        foreach (var scale in request.Equipment.Scales.Where(scale => scale.RepeatabilityGrams is null))
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.RepeatabilityAssumed, new NoticeValue("division", scale.DivisionGrams, "g")));
        }

        if (request.Kind is TrialPlanKind.Held)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.HeldJars, new NoticeValue("lowest", HeldTrial.LowestDays, "d"), new NoticeValue("highest", HeldTrial.HighestDays, "d")));
        }

        if (request.Factors.Any(factor => factor.Additive.Role is AdditiveRole.Acid or AdditiveRole.Deacidifier))
        {
            notices.Add(BenchNotice.Note(trial.Predict(flight.Glasses[0]).Ph is null ? BenchNoticeCodes.PhNotPredicted : BenchNoticeCodes.PhPredicted));
        }

        if (request.Factors.Any(factor => factor.Additive.CanFerment))
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.StabilizeBeforeSugar));
        }

        return [.. notices];
    }
}
