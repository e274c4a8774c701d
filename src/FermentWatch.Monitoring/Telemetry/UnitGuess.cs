namespace FermentWatch.Monitoring.Telemetry;

/// <summary>What a number in an unknown message may be.</summary>
/// <param name="Quantity">What it is about.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Weight">Higher is likelier; only the order and <see cref="IsLikely"/> mean something.</param>
public sealed record UnitGuess(QuantityKind Quantity, MeasurementUnit Unit, double Weight)
{
    private const double Likely = 4;
    private const double NotKept = -10;

    /// <summary>Whether it is worth choosing it beforehand. The reader is asked in any case.</summary>
    public bool IsLikely => Weight >= Likely;

    /// <summary>Whether the name speaks of something that is not kept, such as a counter or a version.</summary>
    public bool IsNothingToKeep => Weight < NotKept;

    /// <summary>Every unit that the numbers can be in, likeliest first.</summary>
    /// <remarks>
    /// A word for the unit in the name counts most, then a word for the quantity, then whether the numbers lie where such readings
    /// usually lie in a cellar. Ranges and words are common practice, no source.
    /// </remarks>
    /// <param name="value">The newest number.</param>
    /// <param name="name">Names on the way to it: field names, or the end of the topic for a plain number.</param>
    /// <param name="last">Numbers before it, in any order; may be empty.</param>
    public static ValueList<UnitGuess> For(double value, string name, IReadOnlyList<double> last)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(last);
        double[] numbers = [value, .. last];
        var words = new FieldWords(name);
        return ValueList.Of(UnitRow.All
            .Where(row => numbers.All(number => double.IsFinite(number) && UnitConversion.IsPlausible(number, row.Unit)))
            .Select(row => new UnitGuess(row.Quantity, row.Unit, Weigh(row, numbers, words)))
            .OrderByDescending(guess => guess.Weight)
            .ThenBy(guess => guess.Unit));
    }

    /// <summary>Whether a name says what is measured, rather than where.</summary>
    public static bool NamesQuantity(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return new FieldWords(name).Quantities.Count > 0;
    }

    private static double Weigh(UnitRow row, double[] numbers, FieldWords words)
    {
        var weight = 0.0;
        if (words.SaysNoQuantity)
        {
            weight -= 30;
        }

        if (words.SaysOtherUnit)
        {
            weight -= 30;
        }

        if (words.Quantities.Count > 0)
        {
            weight += words.Quantities.Contains(row.Quantity) ? 6 : -6;
        }

        if (words.Units.Count > 0)
        {
            weight += words.Units.Contains(row.Unit) ? 8 : words.Units.Any(unit => UnitConversion.QuantityOf(unit) == row.Quantity) ? -2 : -4;
        }

        return weight + numbers.Average(number => UsualRange.Weigh(row.Unit, number));
    }
}
