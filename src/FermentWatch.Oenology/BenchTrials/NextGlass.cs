using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What to do after a flight.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<NextStep>))]
public enum NextStep
{
    /// <summary>Nobody has answered the question yet.</summary>
    AskFirst,

    /// <summary>Mix the named dose.</summary>
    TryDose,

    /// <summary>A dose was judged right by most: take it.</summary>
    TakeDose,

    /// <summary>The gap is no wider than the finest step: taste can't tell more. Take the named dose.</summary>
    StopAtThreshold,

    /// <summary>The control is already too much: this additive leads the wrong way.</summary>
    OtherDirection,

    /// <summary>The largest dose allowed is still too little.</summary>
    LargestTooLittle,

    /// <summary>A higher dose was called too little and a lower one too much: taste again.</summary>
    TasteAgain,
}

/// <summary>What was said about one dose.</summary>
/// <param name="GramsPerLiter">The dose. [g/L]</param>
/// <param name="TooLittle">Answers 'too little'.</param>
/// <param name="Right">Answers 'just about right'.</param>
/// <param name="TooMuch">Answers 'too much'.</param>
public sealed record DoseAnswers(double GramsPerLiter, int TooLittle, int Right, int TooMuch)
{
    /// <summary>From −1, everybody says too little, to 1, everybody says too much.</summary>
    public double Balance => (double)(TooMuch - TooLittle) / Math.Max(1, TooLittle + Right + TooMuch);

    /// <summary>Whether more than half say right.</summary>
    public bool IsRightForMost => 2 * Right > TooLittle + Right + TooMuch;
}

/// <summary>What to do next, and why.</summary>
/// <param name="Step">What to do.</param>
/// <param name="GramsPerLiter">The dose it is about; null when there is none.</param>
/// <param name="Low">Highest dose that was too little; null when none was.</param>
/// <param name="High">Lowest dose that was too much; null when none was.</param>
/// <param name="Answers">What was said, by rising dose.</param>
public sealed record NextGlassProposal(NextStep Step, double? GramsPerLiter, double? Low, double? High, ImmutableArray<DoseAnswers> Answers);

/// <summary>Names the next glass from just-about-right answers: bracket, then halve, and stop at the threshold step.</summary>
/// <remarks>Common practice, no source. The threshold step is the factor's finest step: sugar 3 to 5 g/L (from memory), acid 0.5 g/L where the
/// published difference threshold in wine is about 1.3 g/L tartaric [AcidThreshold]. Liking doesn't name the next glass: it says that one glass is
/// better, not in which direction the best lies.</remarks>
public static class NextGlass
{
    /// <summary>Proposes what to do for one factor, from every flight so far.</summary>
    /// <param name="trial">The trial.</param>
    /// <param name="factor">Place of the factor; answers at all doses of the other factor are added up.</param>
    public static NextGlassProposal Propose(BenchTrial trial, int factor = 0)
    {
        ArgumentNullException.ThrowIfNull(trial);
        var chosen = trial.Request.Factors[factor];
        if (chosen.Additive.Moves is not { } quality)
        {
            return new(NextStep.AskFirst, null, null, null, []);
        }

        // What takes acid away turns the question round: too little acid means too much of it.
        var turned = chosen.Additive.Role is AdditiveRole.Deacidifier;
        var answers = trial.Flights.SelectMany(flight => flight.Scores.Select(score => (Glass: flight.Find(score.Code), Answer: score.Of(quality))))
            .Where(said => said is { Glass: not null, Answer: not null })
            .GroupBy(said => said.Glass!.DosesGramsPerLiter[factor], said => said.Answer!.Value)
            .OrderBy(group => group.Key)
            .Select(group => new DoseAnswers(
                group.Key,
                group.Count(answer => answer == (turned ? JustAboutRight.TooMuch : JustAboutRight.TooLittle)),
                group.Count(answer => answer == JustAboutRight.Right),
                group.Count(answer => answer == (turned ? JustAboutRight.TooLittle : JustAboutRight.TooMuch))))
            .ToImmutableArray();
        return From(answers, chosen.FinestStepGramsPerLiter, StockPlanning.Largest(trial.Request, chosen));
    }

    /// <summary>Proposes from counted answers.</summary>
    /// <param name="answers">By rising dose; the control is dose 0.</param>
    /// <param name="finestStep">Threshold step. [g/L]</param>
    /// <param name="largest">Never beyond this. [g/L]</param>
    public static NextGlassProposal From(ImmutableArray<DoseAnswers> answers, double finestStep, double largest)
    {
        double? low = answers.LastOrDefault(answer => answer.Balance < 0)?.GramsPerLiter;
        double? high = answers.FirstOrDefault(answer => answer.Balance > 0)?.GramsPerLiter;
        if (answers.IsEmpty)
        {
            return Say(NextStep.AskFirst, null);
        }

        if (low > high)
        {
            return Say(NextStep.TasteAgain, (low + high) / 2);
        }

        if (answers.Where(answer => answer.IsRightForMost).MinBy(answer => (-answer.Right, Math.Abs(answer.Balance))) is { } right)
        {
            return Say(NextStep.TakeDose, right.GramsPerLiter);
        }

        if (high is 0)
        {
            return Say(NextStep.OtherDirection, null);
        }

        // Nobody leans either way anywhere: the answers split evenly, and the dose at which they do is as near as this panel comes.
        if (low is null && high is null)
        {
            return Say(NextStep.StopAtThreshold, answers.MinBy(answer => (-answer.Right, answer.GramsPerLiter))!.GramsPerLiter);
        }

        if (high is null)
        {
            return low >= largest * 0.999
                ? Say(NextStep.LargestTooLittle, largest)
                : Say(NextStep.TryDose, Math.Min(largest, OnGrid(Math.Max(2 * low!.Value, low.Value + (2 * finestStep)))));
        }

        var floor = low ?? 0;
        if (high - floor <= finestStep * 1.001)
        {
            var nearest = answers.Where(answer => answer.GramsPerLiter >= floor && answer.GramsPerLiter <= high).MinBy(answer => (Math.Abs(answer.Balance), answer.GramsPerLiter))!;
            return Say(NextStep.StopAtThreshold, nearest.GramsPerLiter);
        }

        var middle = OnGrid((floor + high.Value) / 2);
        return answers.Any(answer => Math.Abs(answer.GramsPerLiter - middle) < finestStep / 2)
            ? Say(NextStep.StopAtThreshold, answers.MinBy(answer => Math.Abs(answer.GramsPerLiter - middle))!.GramsPerLiter)
            : Say(NextStep.TryDose, middle);

        NextGlassProposal Say(NextStep step, double? dose) => new(step, dose, low, high, answers);

        // Halves that are finer than half the threshold step are of no use.
        double OnGrid(double dose) => Math.Round(dose / (finestStep / 2), MidpointRounding.AwayFromZero) * (finestStep / 2);
    }
}
