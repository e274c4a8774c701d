using System.Collections.Immutable;

namespace FermentWatch.Oenology.Tasting;

/// <summary>How alike one taster judged two glasses that held the same.</summary>
/// <param name="Taster">Who.</param>
/// <param name="LikingDifference">Points between the two likings; null when one is missing.</param>
/// <param name="SameAnswers">Just-about-right questions answered alike.</param>
/// <param name="Answers">Just-about-right questions answered for both.</param>
/// <param name="LikingRange">Points between this taster's best and worst liked glass of the flight; null without likings.</param>
public sealed record TwinConsistency(string Taster, int? LikingDifference, int SameAnswers, int Answers, int? LikingRange)
{
    /// <summary>Whether the twins were told apart no more than the rule allows: at most one point of liking, less than half of the
    /// taster's own range when there is one, and no more than one answer changed. Null when there is nothing to compare.
    /// The rule is common practice, no source.</summary>
    public bool? IsConsistent => LikingDifference is null && Answers == 0
        ? null
        : (LikingDifference is not { } points || points == 0 || (points <= 1 && (LikingRange is not { } range || 2 * points < range)))
            && Answers - SameAnswers <= 1;

    /// <summary>Compares the twins for every taster who scored both.</summary>
    /// <param name="scores">Scores of the flight.</param>
    /// <param name="code">Code of a glass.</param>
    /// <param name="twinCode">Code of the glass with the same content.</param>
    public static ImmutableArray<TwinConsistency> Of(IReadOnlyList<GlassScore> scores, string code, string twinCode)
    {
        ArgumentNullException.ThrowIfNull(scores);
        return
        [
            .. scores.GroupBy(score => score.Taster, StringComparer.Ordinal)
                .Select(own => (own, One: own.LastOrDefault(score => score.Code == code), Two: own.LastOrDefault(score => score.Code == twinCode)))
                .Where(found => found.One is not null && found.Two is not null)
                .Select(found => Compare([.. found.own], found.One!, found.Two!)),
        ];
    }

    private static TwinConsistency Compare(List<GlassScore> own, GlassScore one, GlassScore two)
    {
        var both = Enum.GetValues<TasteQuality>().Where(attribute => one.Of(attribute) is not null && two.Of(attribute) is not null).ToList();
        var likings = own.Where(score => score.Liking is not null).Select(score => score.Liking!.Value).ToList();
        return new(
            one.Taster,
            one.Liking is { } first && two.Liking is { } second ? Math.Abs(first - second) : null,
            both.Count(attribute => one.Of(attribute) == two.Of(attribute)),
            both.Count,
            likings.Count > 0 ? likings.Max() - likings.Min() : null);
    }
}
