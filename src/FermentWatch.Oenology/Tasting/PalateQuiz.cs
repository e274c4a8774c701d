using System.Collections.Immutable;

namespace FermentWatch.Oenology.Tasting;

/// <summary>One glass of a quiz.</summary>
/// <param name="Code">Code on the glass.</param>
/// <param name="Content">Code of what is in it; <see cref="PalateQuiz.Nothing"/> for the plain base.</param>
public sealed record QuizGlass(string Code, string Content);

/// <summary>What a quiz came to.</summary>
/// <param name="Taster">Who.</param>
/// <param name="Right">Glasses named right.</param>
/// <param name="Glasses">Glasses.</param>
/// <param name="ProbabilityByChance">Chance of that many or more by guessing.</param>
/// <param name="Confusions">Wrong answers: what it was and what was named.</param>
public sealed record QuizResult(string Taster, int Right, int Glasses, double ProbabilityByChance, ImmutableArray<QuizConfusion> Confusions);

/// <summary>A wrong answer.</summary>
/// <param name="Content">What was in the glass.</param>
/// <param name="Named">What was named.</param>
public sealed record QuizConfusion(string Content, string Named);

/// <summary>A blind quiz: coded glasses, each plain or spiked with one thing; which is which?</summary>
/// <param name="Glasses">Glasses in the order of serving.</param>
/// <param name="Choices">What may be named for each glass.</param>
public sealed record PalateQuiz(ImmutableArray<QuizGlass> Glasses, ImmutableArray<string> Choices)
{
    /// <summary>Content of a plain glass.</summary>
    public const string Nothing = "nothing";

    /// <summary>Draws a quiz.</summary>
    /// <param name="contents">What the glasses hold, 2 to 6; a plain one is <see cref="Nothing"/>. Two glasses may hold the same.</param>
    /// <param name="choices">What may be named: every content, and more if wanted; two or more.</param>
    /// <param name="seed">Decides codes and order.</param>
    /// <exception cref="ArgumentException">Not 2 to 6 glasses, fewer than two choices, or a content that is no choice.</exception>
    public static PalateQuiz Draw(IReadOnlyList<string> contents, IReadOnlyList<string> choices, long seed)
    {
        ArgumentNullException.ThrowIfNull(contents);
        ArgumentNullException.ThrowIfNull(choices);
        ImmutableArray<string> different = [.. choices.Distinct(StringComparer.Ordinal)];
        if (contents.Count is < 2 or > ServingOrders.MostGlasses || different.Length < 2 || contents.Any(content => !different.Contains(content)))
        {
            throw new ArgumentException("A quiz needs 2 to 6 glasses and two or more choices that hold every content.", nameof(contents));
        }

        var codes = GlassCodes.Draw(contents.Count, seed);
        return new([.. new SeededDraw(seed).Shuffle(contents).Select((content, glass) => new QuizGlass(codes[glass], content))], different);
    }

    /// <summary>Marks the answers of one taster. A glass without an answer counts as wrong.</summary>
    /// <param name="taster">Who.</param>
    /// <param name="named">What was named for each code.</param>
    /// <remarks><b>Equation.</b> Chance by guessing is P(X ≥ right | glasses, 1/choices) of the binomial distribution; it holds when each glass
    /// was answered from all choices without crossing off.</remarks>
    public QuizResult Mark(string taster, IReadOnlyDictionary<string, string> named)
    {
        ArgumentNullException.ThrowIfNull(named);
        var right = Glasses.Count(glass => named.GetValueOrDefault(glass.Code) == glass.Content);
        return new(
            taster,
            right,
            Glasses.Length,
            BinomialTail.AtLeast(right, Glasses.Length, 1.0 / Choices.Length),
            [
                .. Glasses.Where(glass => named.TryGetValue(glass.Code, out var answer) && answer != glass.Content)
                    .Select(glass => new QuizConfusion(glass.Content, named[glass.Code])),
            ]);
    }
}
