using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>What a flight came to, in words that claim no more than the answers carry.</summary>
internal static class ResultStory
{
    /// <summary>The claim for each factor, its honesty in the same sentence.</summary>
    public static IEnumerable<string> Claims(BenchTrial trial, FlightReview review, Reader reader)
    {
        for (var factor = 0; factor < trial.Request.Factors.Length; factor++)
        {
            var proposal = NextGlass.Propose(trial, factor);
            var dose = proposal.GramsPerLiter is { } grams ? TrialWords.DoseInSentence(grams, reader) : "";
            yield return TrialText.Of(
                "claim-" + proposal.Step,
                TrialWords.Named(trial.Request.Factors[factor].Additive.Code),
                dose,
                TrialWords.DoseInSentence(proposal.Low ?? 0, reader),
                proposal.High is { } high ? TrialWords.DoseInSentence(high, reader) : "",
                TrialText.Of(review.Ranking?.Verdict is TastingVerdict.Significant ? "honesty-order" : "honesty-lean"));
        }
    }

    /// <summary>What else must be said: luck, twins, the curve of liking.</summary>
    public static IEnumerable<string> Doubts(BenchTrial trial, FlightReview review, Reader reader)
    {
        if (review.Ranking is { } ranking)
        {
            yield return TrialText.Of("rank-" + ranking.Verdict, ranking.Tasters, TrialWords.Chance(ranking.Probability), ranking.IsExact ? "" : TrialText.Of("rank-approximate"));
            var best = review.RankedCodes.Zip(ranking.RankSums).Where(one => one.Second == ranking.RankSums.Min()).Select(one => one.First).ToList();
            yield return TrialText.Of(best.Count == 1 ? "rank-best" : "rank-best-tied", string.Join(", ", best));
        }
        else
        {
            yield return TrialText.Of("rank-none");
        }

        foreach (var taster in review.Consistency)
        {
            yield return TrialText.Of(
                taster.IsConsistent switch { true => "twin-alike", false => "twin-apart", _ => "twin-unknown" },
                taster.Taster,
                taster.LikingDifference is { } points ? points.ToString(global::System.Globalization.CultureInfo.InvariantCulture) : "0");
        }

        if (review.NoiseOfLiking is { } noise and > 0)
        {
            yield return TrialText.Of("twin-noise", reader.Number(noise, "0.#"));
        }

        var surface = review.Surface;
        yield return surface.Verdict is SurfaceVerdict.BestInside && surface.BestFirst is { } first
            ? TrialText.Of("surface-BestInside", TrialWords.Doses(trial, surface.BestSecond is { } second ? [first, second] : [first], reader), TrialWords.Chance(surface.Probability ?? 1))
            : TrialText.Of("surface-" + surface.Verdict);
    }

    /// <summary>Doses of the flight that would tell more; empty when none would.</summary>
    public static IReadOnlyList<double> NextDoses(BenchTrial trial)
    {
        if (trial.Request.Factors.Length != 1 || trial.Request.Kind is not (TrialPlanKind.Ladder or TrialPlanKind.BracketThenHalve))
        {
            return [];
        }

        var proposal = NextGlass.Propose(trial);
        var largest = trial.Request.Kind is TrialPlanKind.BracketThenHalve ? trial.Request.Factors[0].LargestGramsPerLiter : trial.Request.Factors[0].DosesGramsPerLiter[^1];
        return proposal is { Step: NextStep.TryDose or NextStep.TasteAgain, GramsPerLiter: { } dose }
            ? [.. new[] { proposal.Low, dose, proposal.High }.OfType<double>().Where(one => one > 0 && one <= largest).Distinct().Order()]
            : [];
    }

    /// <summary>Counts of the scale that a factor moves, by rising dose.</summary>
    public static IEnumerable<(TrialGlass Glass, GlassSummary Summary, AnswerCounts Counts)> Rows(BenchTrial trial, TrialFlight flight, FlightReview review, TasteQuality quality) =>
        flight.Glasses.Select(glass => (Glass: glass, Summary: review.Glasses.First(summary => summary.Code == glass.Code)))
            .OrderBy(row => row.Glass.AchievedGramsPerLiter[0]).ThenBy(row => row.Glass.AchievedGramsPerLiter.Length > 1 ? row.Glass.AchievedGramsPerLiter[1] : 0)
            .Select(row => (row.Glass, row.Summary, quality switch
            {
                TasteQuality.Sweet => row.Summary.Sweet,
                TasteQuality.Acid => row.Summary.Acid,
                TasteQuality.Tannin => row.Summary.Tannin,
                _ => row.Summary.Bitter,
            }));

    /// <summary>The scales that are shown: those that the doses move, then those on which anybody found fault.</summary>
    public static IReadOnlyList<TasteQuality> Qualities(BenchTrial trial, FlightReview review)
    {
        var moved = trial.Request.Factors.Select(factor => factor.Additive.Moves).OfType<TasteQuality>().Distinct().ToList();
        return [.. moved, .. Enum.GetValues<TasteQuality>().Where(quality => !moved.Contains(quality)
            && Rows(trial, trial.Current, review, quality).Any(row => row.Counts.TooLittle + row.Counts.TooMuch > 0))];
    }
}
