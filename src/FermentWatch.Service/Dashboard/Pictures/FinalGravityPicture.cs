using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Where it should end: equal chances of the final gravity, 20 on a phone and 50 where it is wide, standing on their line.</summary>
internal static class FinalGravityPicture
{
    private const double Room = 56;
    private const double WideRoom = 96;

    /// <summary>The SVG element, or null where the forecast says 'not yet'.</summary>
    public static string? Draw(BatchView view, Reader reader, PictureWidth width)
    {
        if (view.Forecast is not { NotYet: null } forecast)
        {
            return null;
        }

        var box = PictureBox.Of(width);
        double[] ends = [.. EndsOf(forecast).Select(reader.GravityValue)];
        var (p05, p50, p95) = (forecast.FinalGravity.P05, forecast.FinalGravity.P50, forecast.FinalGravity.P95);
        var (least, most) = (reader.GravityValue(p05.Value), reader.GravityValue(p95.Value));
        var (low, high) = (Math.Min(ends[0], least), Math.Max(ends[^1], most));
        var step = Math.Max(reader.GravityDigit, Axis.NiceStep(Math.Max(high - low, reader.GravitySign.Length == 0 ? 0.004 : 1), box.IsPhone ? 4 : 7));
        low = (Math.Floor((low / step) - 0.3)) * step;
        high = (Math.Ceiling((high / step) + 0.3)) * step;
        var axis = new Axis(low, high, box.Edge + 18, box.Right - 18);
        var dots = DotStack.Of([.. ChanceDots.Of(ends, box.Chances).Select(axis.At)], box.DotRadius, box.IsPhone ? Room : WideRoom);
        var line = dots.Height + 8;
        var svg = new SvgWriter().Open(
            "final-" + box.CssClass,
            box.CssClass,
            box.Width,
            line + 56,
            PageText.Of("final-title", view.Batch.Name),
            PageText.Of("final-finding", reader.Gravity(p50), reader.Gravity(p05), reader.Gravity(p95)));
        svg.Path("base", $"M{SvgWriter.Number(box.Edge)} {SvgWriter.Number(line)}H{SvgWriter.Number(box.Right)}");
        dots.WriteAbove(svg, line);
        foreach (var value in Axis.Steps(low - (step / 2), high + (step / 2), step))
        {
            svg.Path("range", $"M{SvgWriter.Number(axis.At(value))} {SvgWriter.Number(line)}v4")
                .Text("soft", axis.At(value), line + 19, reader.GravityMark(value), Anchor.Middle);
        }

        var (left, right) = (axis.At(least), Math.Max(axis.At(most), axis.At(least) + 2));
        svg.Path("range", $"M{SvgWriter.Number(left)} {SvgWriter.Number(line + 26)}v8M{SvgWriter.Number(left)} {SvgWriter.Number(line + 30)}H{SvgWriter.Number(right)}m0-4v8");
        var words = PageText.Of("odds-bracket", PageText.Of("from-to", reader.Gravity(p05), reader.Gravity(p95)));
        var half = PictureBox.TextWidth(words) / 2;
        svg.Text("halo", Math.Clamp((left + right) / 2, box.Edge + half, box.Right - half), line + 51, words, Anchor.Middle);
        return svg.Close();
    }

    /// <summary>Ends of the futures; where the finish lies behind and there are none, twenty even chances through the quantiles.</summary>
    private static double[] EndsOf(GravityForecast forecast)
    {
        if (forecast.Futures.Count > 0)
        {
            return [.. forecast.Futures.Select(future => future.End.Value).Order()];
        }

        var q = forecast.FinalGravity;
        (double Chance, SpecificGravity Gravity)[] known = [(0.05, q.P05), (0.25, q.P25), (0.5, q.P50), (0.75, q.P75), (0.95, q.P95)];
        return [.. Enumerable.Range(0, 20).Select(i =>
        {
            var chance = (i + 0.5) / 20;
            var after = Math.Clamp(Array.FindIndex(known, k => k.Chance >= chance), 1, known.Length - 1);
            after = chance > known[^1].Chance ? known.Length - 1 : after;
            return new Axis(known[after - 1].Chance, known[after].Chance, known[after - 1].Gravity.Value, known[after].Gravity.Value).At(chance);
        })];
    }
}
