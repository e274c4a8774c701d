using System.Collections.Immutable;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What was said about one glass, added up.</summary>
/// <param name="Code">Code.</param>
/// <param name="MeanLiking">Mean liking; null without answers. It doesn't name the next glass.</param>
/// <param name="Sweet">Answers on sweetness.</param>
/// <param name="Acid">Answers on acid.</param>
/// <param name="Tannin">Answers on tannin.</param>
/// <param name="Bitter">Answers on bitterness.</param>
public sealed record GlassSummary(string Code, double? MeanLiking, AnswerCounts Sweet, AnswerCounts Acid, AnswerCounts Tannin, AnswerCounts Bitter);

/// <summary>Counts of just-about-right answers.</summary>
/// <param name="TooLittle">Too little.</param>
/// <param name="Right">Just about right.</param>
/// <param name="TooMuch">Too much.</param>
public sealed record AnswerCounts(int TooLittle, int Right, int TooMuch);

/// <summary>What a flight came to.</summary>
/// <param name="Glasses">Each glass, the twin on its own line.</param>
/// <param name="Ranking">Friedman's test on the orders that were given, and on the likings of who gave none but scored every glass; the twin left out. Null when nobody did.</param>
/// <param name="RankedCodes">Codes in the order of the ranking's columns.</param>
/// <param name="Consistency">Each taster by the hidden twin.</param>
/// <param name="NoiseOfLiking">Mean difference of liking between the twins: smaller differences between glasses say nothing. Null without twins.</param>
/// <param name="Surface">Curve or surface of liking over all flights.</param>
public sealed record FlightReview(
    ImmutableArray<GlassSummary> Glasses,
    RankResult? Ranking,
    ImmutableArray<string> RankedCodes,
    ImmutableArray<TwinConsistency> Consistency,
    double? NoiseOfLiking,
    SurfaceFit Surface);

/// <summary>Reads what was said about a flight.</summary>
public static class TrialReview
{
    /// <summary>Adds up a flight.</summary>
    /// <param name="trial">The trial.</param>
    /// <param name="number">Number of the flight, from 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">No such flight.</exception>
    public static FlightReview Of(BenchTrial trial, int number)
    {
        ArgumentNullException.ThrowIfNull(trial);
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(number, trial.Flights.Length);
        var flight = trial.Flights[number - 1];
        var codes = flight.Glasses.Where(glass => glass.Role is not GlassRole.Twin).Select(glass => glass.Code).ToImmutableArray();
        var rankings = trial.Request.Tasters.Select(taster => Ranks(flight, codes, taster)).OfType<ImmutableArray<double>>().Select(ranks => (IReadOnlyList<double>)ranks).ToList();
        var consistency = flight.Twin is { SameAs: { } original } twin ? TwinConsistency.Of(flight.Scores, original, twin.Code) : [];
        var noise = consistency.Where(taster => taster.LikingDifference is not null).Select(taster => (double)taster.LikingDifference!.Value).ToList();
        return new(
            [.. flight.Glasses.Select(glass => Summary(flight, glass.Code))],
            rankings.Count > 0 && codes.Length >= 2 ? RankTest.Judge(rankings) : null,
            codes,
            consistency,
            noise.Count > 0 ? noise.Average() : null,
            ResponseSurface.Fit(Points(trial)));
    }

    // An order that was given tells more than likings, among which many are equal.
    private static ImmutableArray<double>? Ranks(TrialFlight flight, ImmutableArray<string> codes, string taster)
    {
        if (flight.Rankings.LastOrDefault(ranking => ranking.Taster == taster) is { } given)
        {
            var order = given.Codes.Where(code => codes.Contains(code)).ToList();
            return [.. codes.Select(code => order.IndexOf(code) + 1.0)];
        }

        var likings = codes.Select(code => flight.Scores.LastOrDefault(score => score.Taster == taster && score.Code == code)?.Liking).ToList();
        return likings.TrueForAll(liking => liking is not null) ? RankTest.RanksOf([.. likings.Select(liking => (double)liking!.Value)]) : null;
    }

    private static GlassSummary Summary(TrialFlight flight, string code)
    {
        var scores = flight.Scores.Where(score => score.Code == code).ToList();
        return new(code, scores.Average(score => score.Liking), Count(TasteQuality.Sweet), Count(TasteQuality.Acid), Count(TasteQuality.Tannin), Count(TasteQuality.Bitter));

        AnswerCounts Count(TasteQuality quality) => new(
            scores.Count(score => score.Of(quality) is JustAboutRight.TooLittle),
            scores.Count(score => score.Of(quality) is JustAboutRight.Right),
            scores.Count(score => score.Of(quality) is JustAboutRight.TooMuch));
    }

    private static List<LikingPoint> Points(BenchTrial trial) =>
    [
        .. trial.Flights.SelectMany(flight => flight.Scores.Where(score => score.Liking is not null).Select(score => (Score: score, Doses: flight.Find(score.Code)!.AchievedGramsPerLiter)))
            .Select(said => new LikingPoint(said.Score.Taster, said.Doses[0], said.Doses.Length > 1 ? said.Doses[1] : 0, said.Score.Liking!.Value)),
    ];
}
