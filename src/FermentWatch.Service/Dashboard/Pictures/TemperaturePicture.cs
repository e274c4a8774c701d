using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Temperature over a quiet band with its two limits in words, on its own time axis up to now.</summary>
internal static class TemperaturePicture
{
    private const double Top = 22;
    private const double Bottom = 108;

    /// <summary>The SVG element, or null while there is no temperature.</summary>
    public static string? Draw(BatchView view, Reader reader, PictureWidth width)
    {
        if (view.Temperature.Count == 0)
        {
            return null;
        }

        var box = PictureBox.Of(width);
        var band = view.Batch.TemperatureBand;
        var (coldest, warmest) = (view.Temperature.Min(point => point.Lowest.Celsius), view.Temperature.Max(point => point.Highest.Celsius));
        var low = Math.Min(coldest, band?.Low.Celsius ?? coldest);
        var high = Math.Max(warmest, band?.High.Celsius ?? warmest);
        var room = Math.Max(1, (high - low) * 0.08);
        var height = new Axis(low - room, high + room, Bottom, Top);
        var from = view.Temperature[0].At;
        var until = view.Now > view.Temperature[^1].At ? view.Now : view.Temperature[^1].At;
        var time = new TimeAxis(from, until, box.Edge, box.Right - 6);
        var newest = view.Temperature[^1];
        var svg = new SvgWriter().Open(
            "temperature-" + box.CssClass,
            box.CssClass,
            box.Width,
            Bottom + 36,
            PageText.Of("temperature-title", view.Batch.Name, reader.MonthDay(from)),
            PageText.Of("temperature-finding", reader.Degrees(coldest), reader.Degrees(warmest), reader.Degrees(newest.Temperature.Celsius))
                + (band is null ? "" : " " + PageText.Of("temperature-band", reader.BareDegrees(band.Low.Celsius), reader.Degrees(band.High.Celsius))));
        if (band is not null)
        {
            WriteBand(svg, box, height, band, reader);
        }

        WriteLine(svg, view, box, time, height);
        svg.Circle("nowpt", new Spot(time.At(newest.At), height.At(newest.Temperature.Celsius)), 5);
        if (band is null)
        {
            svg.Text("soft halo", box.Edge, Top - 6, PageText.Of("temperature-highest", reader.Degrees(warmest)))
                .Text("soft halo", box.Edge, Bottom + 2, PageText.Of("temperature-lowest", reader.Degrees(coldest)));
        }

        TimeTicks.Write(svg, TimeTicks.Of(time, reader).Where(tick => tick.X > box.Edge + 40), Bottom + 12, Bottom + 30, box.Edge, box.Right);
        return svg.Close();
    }

    private static void WriteBand(SvgWriter svg, PictureBox box, Axis height, TemperatureBand band, Reader reader)
    {
        var (upper, lower) = (height.At(band.High.Celsius), height.At(band.Low.Celsius));
        var (left, right) = (SvgWriter.Number(box.Edge), SvgWriter.Number(box.Right));
        svg.Path("bandfill", $"M{left} {SvgWriter.Number(upper)}H{right}V{SvgWriter.Number(lower)}H{left}Z")
            .Path("bandedge", $"M{left} {SvgWriter.Number(lower)}H{right}")
            .Path("bandedge", $"M{left} {SvgWriter.Number(upper)}H{right}")
            .Text("soft halo", box.Edge, upper - 5, PageText.Of("band-upper", reader.BareDegrees(band.High.Celsius) + Figures.NoBreak + reader.DegreeSign))
            .Text("soft halo", box.Edge, lower + 16, PageText.Of("band-lower", reader.BareDegrees(band.Low.Celsius) + Figures.NoBreak + reader.DegreeSign));
    }

    private static void WriteLine(SvgWriter svg, BatchView view, PictureBox box, TimeAxis time, Axis height)
    {
        var usual = UsualInterval(view);
        var present = new List<Spot>();
        for (var i = 0; i < view.Temperature.Count; i++)
        {
            var point = view.Temperature[i];
            var spot = new Spot(time.At(point.At), height.At(point.Temperature.Celsius));
            if (i > 0 && point.At - view.Temperature[i - 1].At > usual)
            {
                svg.Path("gap", SvgWriter.Line([present[^1], spot]));
                WriteStretch();
            }

            present.Add(spot);
        }

        WriteStretch();

        void WriteStretch()
        {
            svg.Path("measured", SvgWriter.Line(present.Count > 1 ? Thinning.Of(present, box.Buckets) : [present[0], present[0]]));
            present = [];
        }
    }

    /// <summary>Longer than this between two bins is a gap: four times the median, at least two hours.</summary>
    private static TimeSpan UsualInterval(BatchView view)
    {
        var intervals = view.Temperature.Zip(view.Temperature.Skip(1), (one, next) => next.At - one.At).Order().ToList();
        var limit = intervals.Count == 0 ? TimeSpan.Zero : intervals[intervals.Count / 2] * 4;
        return limit > TimeSpan.FromHours(2) ? limit : TimeSpan.FromHours(2);
    }
}
