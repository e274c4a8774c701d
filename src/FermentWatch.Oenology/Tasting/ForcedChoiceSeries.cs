using System.Collections.Immutable;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>One step of a series: three glasses, one of them spiked.</summary>
/// <param name="Concentration">Of the spiked glass, in the unit of the series.</param>
/// <param name="Codes">Codes of the three glasses, in the order of serving.</param>
/// <param name="SpikedCode">Which one is spiked: shown to who pours, not to who tastes.</param>
public sealed record ForcedChoiceStep(double Concentration, ImmutableArray<string> Codes, string SpikedCode);

/// <summary>An ascending series of forced choices, ready to pour.</summary>
/// <param name="Unit">Unit of the concentrations.</param>
/// <param name="Steps">Steps, weakest first.</param>
public sealed record ForcedChoiceSeries(string Unit, ImmutableArray<ForcedChoiceStep> Steps)
{
    /// <summary>Plans a series.</summary>
    /// <param name="lowest">Weakest concentration, above 0.</param>
    /// <param name="factor">Each step is this much stronger: 1.2 to 5; 2 to 3 is usual, 1.5 for fine work (textbook practice, from memory).</param>
    /// <param name="steps">2 to 10.</param>
    /// <param name="unit">Unit of the concentrations.</param>
    /// <param name="seed">Decides codes and places.</param>
    /// <remarks>The spiked glass stands at each of the three places as often as can be, in a random order.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside these ranges.</exception>
    public static ForcedChoiceSeries Plan(double lowest, double factor, int steps, string unit, long seed)
    {
        QuantityRange.Require(lowest, double.Epsilon, 1e6, "lowest concentration", unit);
        QuantityRange.Require(factor, 1.2, 5, "step factor", "(ratio)");
        QuantityRange.Require(steps, 2, 10, "steps", "steps");
        var codes = GlassCodes.Draw(3 * steps, seed);
        var draw = new SeededDraw(seed);
        var places = new List<int>();
        while (places.Count < steps)
        {
            places.AddRange(draw.Shuffle([0, 1, 2]));
        }

        return new(unit,
        [
            .. Enumerable.Range(0, steps).Select(step =>
            {
                ImmutableArray<string> three = [.. codes.Skip(3 * step).Take(3)];
                return new ForcedChoiceStep(lowest * Math.Pow(factor, step), three, three[places[step]]);
            }),
        ]);
    }

    /// <summary>Reads the answers of one person.</summary>
    /// <param name="named">The code named at each step, in order.</param>
    /// <exception cref="ArgumentException">Another number of answers, or a code that is not on the step's glasses.</exception>
    public PersonalThreshold Judge(IReadOnlyList<string> named)
    {
        ArgumentNullException.ThrowIfNull(named);
        if (named.Count != Steps.Length)
        {
            throw new ArgumentException($"There are {named.Count} answers for {Steps.Length} steps; each step needs one.", nameof(named));
        }

        foreach (var (step, code) in Steps.Zip(named))
        {
            if (!step.Codes.Contains(code))
            {
                throw new ArgumentException($"{code} is not a glass of this step; it has {string.Join(", ", step.Codes)}.", nameof(named));
            }
        }

        return ForcedChoice.BestEstimate([.. Steps.Select(step => step.Concentration)], [.. Steps.Zip(named, (step, code) => step.SpikedCode == code)]);
    }
}
