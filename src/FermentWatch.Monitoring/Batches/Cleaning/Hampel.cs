namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Medians and the identifier of outliers that is named after Hampel.</summary>
public static class Hampel
{
    /// <summary>Factor that makes the median absolute deviation an estimate of the standard deviation of normal noise.</summary>
    public const double NormalFactor = 1.4826;

    /// <summary>Marks values farther from their window's median than <paramref name="threshold"/> scaled deviations.</summary>
    /// <remarks>
    /// The window has <paramref name="halfWindow"/> values on either side. At the ends it keeps its length and moves inward, so that the
    /// newest value is judged too (a window of the length of the series when that is shorter).
    /// </remarks>
    /// <param name="values">The series.</param>
    /// <param name="halfWindow">Values on either side, 1 to 15.</param>
    /// <param name="threshold">Number of scaled median absolute deviations.</param>
    /// <param name="floor">Deviation up to which nothing is marked, in the unit of the values.</param>
    /// <param name="deviations">Receives, where marked, value minus median; zero elsewhere. As long as the series.</param>
    public static void Mark(ReadOnlySpan<double> values, int halfWindow, double threshold, double floor, Span<double> deviations)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(halfWindow, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(halfWindow, 15);
        Span<double> window = stackalloc double[(2 * halfWindow) + 1];
        var length = Math.Min(window.Length, values.Length);
        window = window[..length];
        for (var i = 0; i < values.Length; i++)
        {
            deviations[i] = 0;
            var from = Math.Clamp(i - halfWindow, 0, values.Length - length);
            values.Slice(from, length).CopyTo(window);
            var median = MedianInPlace(window);
            var deviation = values[i] - median;
            if (Math.Abs(deviation) <= floor)
            {
                continue;
            }

            for (var j = 0; j < length; j++)
            {
                window[j] = Math.Abs(window[j] - median);
            }

            if (Math.Abs(deviation) > threshold * NormalFactor * MedianInPlace(window))
            {
                deviations[i] = deviation;
            }
        }
    }

    /// <summary>Median of a few values, which are reordered; the mean of the middle two for an even number, NaN for none.</summary>
    public static double MedianInPlace(Span<double> values)
    {
        if (values.IsEmpty)
        {
            return double.NaN;
        }

        if (values.Length > 24)
        {
            values.Sort();
        }
        else
        {
            SortFew(values);
        }

        var middle = values.Length / 2;
        return values.Length % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
    }

    /// <summary>Scaled median absolute deviation from the median. The values are reordered and overwritten.</summary>
    public static double ScaleInPlace(Span<double> values)
    {
        var median = MedianInPlace(values);
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = Math.Abs(values[i] - median);
        }

        return values.IsEmpty ? 0 : NormalFactor * MedianInPlace(values);
    }

    private static void SortFew(Span<double> values)
    {
        for (var i = 1; i < values.Length; i++)
        {
            var value = values[i];
            var j = i - 1;
            while (j >= 0 && values[j] > value)
            {
                values[j + 1] = values[j];
                j--;
            }

            values[j + 1] = value;
        }
    }
}
