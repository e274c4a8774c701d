using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>All batches on one time line: a dot for each chance in twenty of ending that day, in the order of the book.</summary>
internal static class WeeksAheadPicture
{
    private const double Width = 360;
    private const double Edge = 2;
    private const double Radius = 3.4;

    /// <summary>The SVG element, or null where no batch has a day in sight.</summary>
    public static string? Draw(BoardSnapshot snapshot, Reader reader)
    {
        var start = EventTime.From(snapshot.ComputedAt);
        var latest = start + TimeSpan.FromDays(13);
        foreach (var entry in snapshot.Entries)
        {
            if (Outlooks.Of(entry, snapshot.ComputedAt) == Outlook.Expected)
            {
                var last = CurveWindow.FuturesOf(entry.View)[^1].Finish;
                latest = last > latest ? last : latest;
            }
        }

        if (!snapshot.Entries.Any(entry => Outlooks.Of(entry, snapshot.ComputedAt) == Outlook.Expected))
        {
            return null;
        }

        var furthest = start + TimeSpan.FromDays(90);
        latest = latest > furthest ? furthest : latest;
        var axis = new TimeAxis(start, latest + ((latest - start) * 0.02), Edge + 8, Width - Edge - 4);
        var rows = new List<(double Top, double Bottom, BoardEntry Entry, DotStack? Dots)>();
        var y = 22d;
        var unheard = snapshot.Entries.Count(entry => Outlooks.Of(entry, snapshot.ComputedAt) == Outlook.NoReadings);
        var shown = snapshot.Entries.Where(entry => Outlooks.Of(entry, snapshot.ComputedAt) != Outlook.NoReadings).ToList();
        foreach (var entry in shown)
        {
            var dots = Outlooks.Of(entry, snapshot.ComputedAt) == Outlook.Expected
                ? DotStack.Of([.. CurveWindow.FuturesOf(entry.View).Select(future => future.Finish).Where(axis.Shows).Select(axis.At)], Radius, 38)
                : null;
            var bottom = y + (dots is null ? 42 : Math.Max(34, dots.Height + 26));
            rows.Add((y, bottom, entry, dots));
            y = bottom;
        }

        var svg = new SvgWriter().Open(
            "weeks",
            "weeks",
            Width,
            y + 4 + (unheard > 0 ? 22 : 0),
            PageText.Of("weeks-title", reader.MonthDay(start)),
            string.Join(' ', shown.Select(entry => entry.View.Batch.Name + ": " + Finding(entry, snapshot, reader) + ".")));
        foreach (var tick in TimeTicks.Of(axis, reader).Where(tick => tick.X < Width - 30))
        {
            svg.Text("soft", tick.X, 14, tick.Label, tick.X < 30 ? Anchor.Start : Anchor.Middle)
                .Path("grid", $"M{SvgWriter.Number(tick.X)} 22V{SvgWriter.Number(y)}");
        }

        foreach (var (top, bottom, entry, dots) in rows)
        {
            svg.Text("halo strong", Edge, top + 17, Shortened(entry.View.Batch.Name));
            if (dots is null)
            {
                svg.Text("halo soft it", Edge, top + 34, Finding(entry, snapshot, reader));
            }
            else
            {
                dots.WriteAbove(svg, bottom - 3);
            }

            svg.Path("grid", $"M{SvgWriter.Number(Edge)} {SvgWriter.Number(bottom)}H{SvgWriter.Number(Width - Edge)}");
        }

        if (unheard > 0)
        {
            svg.Text("soft it", Edge, y + 18, PageText.Of("weeks-others", Figures.Count(unheard)));
        }

        return svg.Close();
    }

    private static string Shortened(string name) => name.Length <= 30 ? name : string.Concat(name.AsSpan(0, 29), "…");

    private static string Finding(BoardEntry entry, BoardSnapshot snapshot, Reader reader) => Outlooks.Of(entry, snapshot.ComputedAt) switch
    {
        Outlook.Expected when entry.View.Forecast is { Finish: { P05: { } early, P50: { } middle, P95: { } late } } =>
            PageText.Of("weeks-expected", reader.MonthDay(early), reader.MonthDay(late), reader.MonthDay(middle)),
        Outlook.Silent => PageText.Of("weeks-silent"),
        Outlook.Flat => PageText.Of("weeks-flat"),
        _ => PageText.Of("weeks-not-yet"),
    };
}
