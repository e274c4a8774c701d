using System.Globalization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>The questions about a glass, and how their answers are read.</summary>
internal static class ScoreFields
{
    /// <summary>Most letters of the words about a glass.</summary>
    public const int LongestNote = 300;

    /// <summary>The four scales.</summary>
    public static IReadOnlyList<(string Name, TasteQuality Quality)> Scales { get; } =
        [("sweet", TasteQuality.Sweet), ("acid", TasteQuality.Acid), ("tannin", TasteQuality.Tannin), ("bitter", TasteQuality.Bitter)];

    /// <summary>The answers of a scale, with the number under which each is typed from paper.</summary>
    public static IReadOnlyList<(string Word, JustAboutRight Answer)> Stops { get; } =
        [("too-little", JustAboutRight.TooLittle), ("right", JustAboutRight.Right), ("too-much", JustAboutRight.TooMuch)];

    /// <summary>The nine points in the order of the page: the middle, then outward, dislike left and like right.</summary>
    public static IReadOnlyList<int> Likings { get; } = [5, 4, 6, 3, 7, 2, 8, 1, 9];

    /// <summary>A score from what was sent; null when nothing was answered.</summary>
    /// <param name="taster">Who.</param>
    /// <param name="code">Which glass.</param>
    /// <param name="typed">What was sent under a name.</param>
    public static GlassScore? Read(string taster, string code, Func<string, string> typed)
    {
        var answers = Scales.ToDictionary(scale => scale.Quality, scale => Answer(typed(scale.Name)));
        int? liking = int.TryParse(typed("liking"), NumberStyles.None, CultureInfo.InvariantCulture, out var points) && points is >= GlassScore.LowestLiking and <= GlassScore.HighestLiking
            ? points
            : null;
        var note = new string([.. typed("note").Where(letter => !char.IsControl(letter) || letter == '\n')]);
        note = note.Length > LongestNote ? note[..LongestNote] : note;
        return liking is null && note.Length == 0 && answers.Values.All(answer => answer is null)
            ? null
            : new(taster, code, answers[TasteQuality.Sweet], answers[TasteQuality.Acid], answers[TasteQuality.Tannin], answers[TasteQuality.Bitter], liking, note);
    }

    /// <summary>An answer by its word, or by its number from 1 to 3.</summary>
    private static JustAboutRight? Answer(string typed)
    {
        for (var stop = 0; stop < Stops.Count; stop++)
        {
            if (typed == Stops[stop].Word || typed == (stop + 1).ToString(CultureInfo.InvariantCulture))
            {
                return Stops[stop].Answer;
            }
        }

        return null;
    }
}
