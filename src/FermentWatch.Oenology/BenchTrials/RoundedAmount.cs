using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>An amount rounded once, visibly, to what an instrument can show.</summary>
/// <param name="Exact">What the arithmetic asks for, in the instrument's unit.</param>
/// <param name="Shown">A whole number of the instrument's steps, half a step off at most; null when it would be less than one step:
/// then no number is shown.</param>
/// <param name="Step">The instrument's step.</param>
public sealed record RoundedAmount(double Exact, decimal? Shown, decimal Step)
{
    /// <summary>The shown amount as a number to compute with; 0 when none is shown.</summary>
    [JsonIgnore]
    public double Taken => (double)(Shown ?? 0);

    /// <summary>Rounds an amount.</summary>
    /// <param name="exact">0 to 1e9, in the instrument's unit.</param>
    /// <param name="step">The instrument's step, 1e-6 to 1e6 in the same unit.</param>
    /// <remarks>Half a step goes up. <b>Check.</b> ScaleUpTests, 500 random doses against exact fractions.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside these ranges.</exception>
    public static RoundedAmount Of(double exact, double step)
    {
        QuantityRange.Require(exact, 0, 1e9, "amount", "(instrument's unit)");
        QuantityRange.Require(step, 1e-6, 1e6, "step of the instrument", "(instrument's unit)");
        var division = (decimal)step;
        var steps = Math.Round((decimal)exact / division, MidpointRounding.AwayFromZero);
        return new(exact, steps >= 1 ? steps * division : null, division);
    }
}
