using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>The finding of the temperature picture as a sentence.</summary>
internal static class TemperatureWords
{
    /// <summary>'Now 19.4 °C in the liquid. Above the band for 5 h, by 0.6 °C at most.'</summary>
    public static string Caption(BatchView view, Reader reader)
    {
        var newest = view.Temperature[^1].Temperature;
        var sentence = PageText.Of("temperature-newest", reader.Degrees(newest.Celsius));
        if (view.Batch.TemperatureBand is not { } band)
        {
            return sentence + " " + PageText.Of("temperature-no-band");
        }

        var (above, most) = Outside(view, point => point.Highest.Celsius - band.High.Celsius);
        var (below, least) = Outside(view, point => band.Low.Celsius - point.Lowest.Celsius);
        return sentence
            + (above > TimeSpan.Zero ? " " + PageText.Of("temperature-above", Figures.Length(above), reader.DegreesApart(most)) : "")
            + (below > TimeSpan.Zero ? " " + PageText.Of("temperature-below", Figures.Length(below), reader.DegreesApart(least)) : "")
            + (above == TimeSpan.Zero && below == TimeSpan.Zero ? " " + PageText.Of("temperature-within") : "");
    }

    /// <summary>Time that bins cover outside a limit; a bin lasts until the next, at most two hours.</summary>
    private static (TimeSpan Length, double Most) Outside(BatchView view, Func<TemperaturePoint, double> beyond)
    {
        var (length, most) = (TimeSpan.Zero, 0d);
        for (var i = 0; i < view.Temperature.Count; i++)
        {
            var excess = beyond(view.Temperature[i]);
            if (excess <= 0)
            {
                continue;
            }

            var until = i + 1 < view.Temperature.Count ? view.Temperature[i + 1].At : view.Now;
            var lasted = until - view.Temperature[i].At;
            length += lasted > TimeSpan.FromHours(2) ? TimeSpan.FromHours(2) : lasted;
            most = Math.Max(most, excess);
        }

        return (length, most);
    }
}
