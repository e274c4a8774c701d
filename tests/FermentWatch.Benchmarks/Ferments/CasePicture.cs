using System.Globalization;
using System.Text;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>Draws what was forecast at a cut of a recording, with what came of it, as SVG.</summary>
internal static class CasePicture
{
    private const double Width = 720;
    private const double Height = 360;
    private const double Left = 56;
    private const double Bottom = 40;
    private const double Top = 34;

    /// <summary>picture RECORDING --cut N --out FILE.svg</summary>
    public static int Run(string[] arguments)
    {
        string? Option(string name) => Array.IndexOf(arguments, name) is var at and >= 0 && at + 1 < arguments.Length ? arguments[at + 1] : null;
        if (arguments.Length < 2 || Option("--out") is not { } output
            || !int.TryParse(Option("--cut"), NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            Console.Error.WriteLine("picture RECORDING --cut N --out FILE.svg");
            return 2;
        }

        var folder = ReplayFolder.Load(arguments[1]);
        var truth = FermentTruth.Read(arguments[1]);
        var cut = folder.Cuts.Single(one => one.Number == number);
        File.WriteAllText(output, Draw(truth, Predictor.View(folder, cut), truth.Cuts.Single(one => one.Number == number)));
        return 0;
    }

    private static string Draw(FermentTruth truth, BatchView view, TruthCut cut)
    {
        var forecast = view.Forecast ?? throw new InvalidOperationException("Nothing was forecast at this cut.");
        var until = Math.Min(truth.EndHours, Math.Max(cut.Hours * 2, cut.FinishHours + 96));
        var high = view.Gravity.Max(point => point.Gravity.Points) + 4;
        var low = Math.Min(forecast.FinalGravity.P05.Points, (cut.FinalGravity - 1) * 1000) - 4;
        double X(double hours) => Left + ((Width - Left - 12) * hours / until);
        double Y(double points) => Top + ((Height - Top - Bottom) * (high - points) / (high - low));
        double Hours(EventTime at) => (at - view.Batch.InoculatedAt).TotalHours;
        string Path(IEnumerable<(double Hours, double Points)> line) =>
            "M" + string.Join(' ', line.Where(one => one.Hours <= until).Select(one => string.Create(CultureInfo.InvariantCulture, $"{X(one.Hours):F1},{Y(one.Points):F1}")));
        var svg = new StringBuilder();
        svg.AppendLine(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {Width} {Height}\" font-family=\"sans-serif\" font-size=\"12\">");
        svg.AppendLine(CultureInfo.InvariantCulture, $"<rect width=\"{Width}\" height=\"{Height}\" fill=\"#ffffff\"/>");
        var ends = forecast.FinalGravity;
        var (p05, p25, p75, p95) = (Y(ends.P05.Points), Y(ends.P25.Points), Y(ends.P75.Points), Y(ends.P95.Points));
        var now = X(cut.Hours);
        svg.AppendLine(CultureInfo.InvariantCulture, $"<rect x=\"{now:F1}\" y=\"{p95:F1}\" width=\"{Width - 12 - now:F1}\" height=\"{p05 - p95:F1}\" fill=\"#d9e6f2\"/>");
        svg.AppendLine(CultureInfo.InvariantCulture, $"<rect x=\"{now:F1}\" y=\"{p75:F1}\" width=\"{Width - 12 - now:F1}\" height=\"{p25 - p75:F1}\" fill=\"#a9c6e0\"/>");
        foreach (var future in forecast.Futures)
        {
            svg.AppendLine(CultureInfo.InvariantCulture, $"<path d=\"{Path(future.Points.Select(one => (Hours(one.At), one.Gravity.Points)))}\" fill=\"none\" stroke=\"#3b6ea5\" stroke-opacity=\"0.35\"/>");
        }

        foreach (var point in view.Gravity)
        {
            svg.AppendLine(CultureInfo.InvariantCulture, $"<circle cx=\"{X(Hours(point.At)):F1}\" cy=\"{Y(point.Gravity.Points):F1}\" r=\"1.3\" fill=\"#444444\"/>");
        }

        svg.AppendLine(CultureInfo.InvariantCulture, $"<path d=\"{Path(truth.Cuts.Select(one => (one.Hours, (one.Gravity - 1) * 1000)))}\" fill=\"none\" stroke=\"#b5482a\" stroke-width=\"1.5\" stroke-dasharray=\"5 3\"/>");
        var end = Y((cut.FinalGravity - 1) * 1000);
        svg.AppendLine(CultureInfo.InvariantCulture, $"<line x1=\"{now:F1}\" x2=\"{Width - 12}\" y1=\"{end:F1}\" y2=\"{end:F1}\" stroke=\"#b5482a\"/>");
        Axes(svg, X, Y, until, low, high);
        svg.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{Left}\" y=\"20\">{truth.Ferment}, {truth.Family}, at {cut.Hours / 24:F1} d: foreseen {ends.P50.Value:F3} ({ends.P05.Value:F3} to {ends.P95.Value:F3}), left alone it ends at {cut.FinalGravity:F3} (red)</text>");
        svg.AppendLine("</svg>");
        return svg.ToString();
    }

    private static void Axes(StringBuilder svg, Func<double, double> x, Func<double, double> y, double until, double low, double high)
    {
        var days = Math.Max(1, Math.Ceiling(until / 24 / 10));
        for (var day = 0.0; day * 24 <= until; day += days)
        {
            svg.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{x(day * 24):F1}\" y=\"{Height - 20}\" text-anchor=\"middle\">{day:F0}</text>");
        }

        for (var points = Math.Ceiling(low / 20) * 20; points <= high; points += 20)
        {
            svg.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{Left - 6}\" y=\"{y(points) + 4:F1}\" text-anchor=\"end\">{1 + (points / 1000):F3}</text>");
            svg.AppendLine(CultureInfo.InvariantCulture, $"<line x1=\"{Left}\" x2=\"{Width - 12}\" y1=\"{y(points):F1}\" y2=\"{y(points):F1}\" stroke=\"#cccccc\" stroke-width=\"0.5\"/>");
        }

        svg.AppendLine(CultureInfo.InvariantCulture, $"<text x=\"{Width / 2}\" y=\"{Height - 4}\" text-anchor=\"middle\">days since inoculation</text>");
    }
}
