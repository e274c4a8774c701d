using System.Collections.Immutable;
using System.Globalization;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Training of the palate: a kit for one taste, and a blind quiz of several. Nothing is stored: the number of the quiz decides codes and order.</summary>
internal static class PalateStory
{
    /// <summary>Glasses of a kit, in multiples of the stated threshold; weaker ones for what is only smelled.</summary>
    public static readonly ImmutableArray<double> Multiples = [0.5, 1, 2, 4];

    /// <summary>Volume of a glass. [mL]</summary>
    public const double GlassMilliliters = 50;

    /// <summary>How strong the glasses of a quiz are, in multiples of the stated threshold.</summary>
    public const double QuizMultiple = 2;

    /// <summary>What a quiz asks for: tastes that are drunk in water, and plain water.</summary>
    public static ImmutableArray<TasteStimulus> QuizStimuli { get; } = [.. TasteStimulus.All.Where(stimulus => !stimulus.IsSmellOnly && stimulus.Base == "water")];

    /// <summary>Highest number of a quiz.</summary>
    public const long LastQuiz = 9999;

    /// <summary>The kit of a stimulus with this syringe; null when its glasses are too far apart for it.</summary>
    public static PalateKit? Kit(TasteStimulus stimulus, DosingSyringe syringe)
    {
        try
        {
            return PalateKit.Plan(stimulus, Multiples, GlassMilliliters, syringe);
        }
        catch (ArgumentOutOfRangeException)
        {
            return null;
        }
    }

    /// <summary>The quiz under a number: each taste once, and one plain glass.</summary>
    public static PalateQuiz Quiz(long number) => PalateQuiz.Draw(
        [.. QuizStimuli.Select(stimulus => stimulus.Code), PalateQuiz.Nothing],
        [.. QuizStimuli.Select(stimulus => stimulus.Code), PalateQuiz.Nothing],
        number);

    /// <summary>Name of what is in a glass.</summary>
    public static string Named(string content) => TrialText.Of("stimulus-" + content);

    /// <summary>A number of a quiz from the address; null when it is none.</summary>
    public static long? NumberOf(string typed) =>
        long.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= LastQuiz ? number : null;
}
