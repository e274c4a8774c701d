using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Where a threshold lies towards the series it was found with.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<ThresholdPlace>))]
public enum ThresholdPlace
{
    /// <summary>Right at every step: half a step below the lowest. The true one may be lower still.</summary>
    BelowSeries,

    /// <summary>Between the last miss and the first of the hits.</summary>
    WithinSeries,

    /// <summary>Wrong at the top: half a step above the highest. The true one may be higher still.</summary>
    AboveSeries,
}

/// <summary>One person's threshold, as a best estimate.</summary>
/// <param name="Concentration">The estimate, in the unit of the series.</param>
/// <param name="Place">Where it lies towards the series.</param>
/// <param name="HitsAtTop">Right answers in a row at the top of the series.</param>
/// <param name="ProbabilityOfLuckyTop">Chance that someone who perceives nothing ends with that many hits or more: (1/3) to that power;
/// 1/3 for one hit.</param>
public sealed record PersonalThreshold(double Concentration, ThresholdPlace Place, int HitsAtTop, double ProbabilityOfLuckyTop)
{
    /// <summary>Whether luck explains the end of the series more often than one time in twenty: then the top steps are repeated.</summary>
    public bool MayBeLuck => Place is not ThresholdPlace.AboveSeries && ProbabilityOfLuckyTop > DifferenceTest.UsualLevel;
}

/// <summary>What several personal thresholds come to.</summary>
/// <param name="GeometricMean">Geometric mean, in the unit of the series.</param>
/// <param name="LogStandardDeviation">Standard deviation (n − 1) of the decimal logarithms; null for one person.</param>
/// <param name="Lowest">Lowest personal threshold.</param>
/// <param name="Highest">Highest personal threshold.</param>
/// <param name="People">People.</param>
/// <param name="IsGroupThreshold">False below five people: then only the range is shown (a rule of this product, no source).</param>
public sealed record GroupThreshold(double GeometricMean, double? LogStandardDeviation, double Lowest, double Highest, int People, bool IsGroupThreshold);

/// <summary>Ascending forced choice: at each step one spiked glass among three, weakest step first.</summary>
public static class ForcedChoice
{
    /// <summary>The best-estimate threshold of one person.</summary>
    /// <param name="concentrations">Rising concentrations, two or more, all above 0.</param>
    /// <param name="hits">For each step whether the spiked glass was named.</param>
    /// <remarks>
    /// <para><b>Equation.</b> Geometric mean of the highest concentration that was missed and the next one, c = √(c_miss·c_next). Right
    /// everywhere: half a logarithmic step below the lowest. Wrong at the top: half a logarithmic step above the highest.</para>
    /// <para><b>Valid.</b> For the person, the day and the base wine. Somebody who perceives nothing still gets a threshold inside or below
    /// the series with probability 1/3, by guessing the top step; two hits at the top 1/9, three 1/27.</para>
    /// <para><b>Source.</b> [ASTME679] (introduction read), the rule as in a public university exercise on it. <b>Check.</b> ForcedChoiceTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentException">Fewer than two steps, not rising, or another number of answers.</exception>
    public static PersonalThreshold BestEstimate(IReadOnlyList<double> concentrations, IReadOnlyList<bool> hits)
    {
        ArgumentNullException.ThrowIfNull(concentrations);
        ArgumentNullException.ThrowIfNull(hits);
        if (concentrations.Count < 2 || !(concentrations[0] > 0) || concentrations.Zip(concentrations.Skip(1)).Any(pair => !(pair.First < pair.Second)))
        {
            throw new ArgumentException("The concentrations must be two or more, rising, all above 0.", nameof(concentrations));
        }

        if (hits.Count != concentrations.Count)
        {
            throw new ArgumentException($"There are {hits.Count} answers for {concentrations.Count} steps; each step needs one.", nameof(hits));
        }

        var top = concentrations.Count - 1;
        var run = hits.Reverse().TakeWhile(hit => hit).Count();
        var lastMiss = top - run;
        var (place, estimate) = lastMiss == top
            ? (ThresholdPlace.AboveSeries, concentrations[top] * Math.Sqrt(concentrations[top] / concentrations[top - 1]))
            : lastMiss < 0
                ? (ThresholdPlace.BelowSeries, concentrations[0] / Math.Sqrt(concentrations[1] / concentrations[0]))
                : (ThresholdPlace.WithinSeries, Math.Sqrt(concentrations[lastMiss] * concentrations[lastMiss + 1]));
        return new(estimate, place, run, ChanceOfRunByGuessing(run));
    }

    /// <summary>Chance that somebody who perceives nothing is right this many times in a row: (1/3)ᵏ.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not 0 to 100.</exception>
    public static double ChanceOfRunByGuessing(int steps)
    {
        QuantityRange.Require(steps, 0, 100, "steps", "steps");
        return Math.Pow(1.0 / 3, steps);
    }

    /// <summary>Geometric mean and spread of personal thresholds.</summary>
    /// <remarks><b>Equation.</b> 10^mean(log₁₀ cᵢ); spread is the standard deviation (n − 1) of log₁₀ cᵢ. <b>Source.</b> [ASTME679] as above.</remarks>
    /// <exception cref="ArgumentException">None, or one that is not above 0.</exception>
    public static GroupThreshold Group(IReadOnlyList<double> thresholds)
    {
        ArgumentNullException.ThrowIfNull(thresholds);
        if (thresholds.Count == 0 || thresholds.Any(threshold => !(threshold > 0)))
        {
            throw new ArgumentException("There must be one threshold or more, all above 0.", nameof(thresholds));
        }

        var logarithms = thresholds.Select(Math.Log10).ToList();
        var mean = logarithms.Average();
        double? deviation = thresholds.Count > 1
            ? Math.Sqrt(logarithms.Sum(logarithm => (logarithm - mean) * (logarithm - mean)) / (thresholds.Count - 1))
            : null;
        return new(Math.Pow(10, mean), deviation, thresholds.Min(), thresholds.Max(), thresholds.Count, thresholds.Count >= 5);
    }
}
