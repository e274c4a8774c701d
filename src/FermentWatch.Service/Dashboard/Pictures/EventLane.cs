using System.Globalization;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The lane of event numerals on top: pushed apart to be read, each with a bent leader to its true time.</summary>
internal static class EventLane
{
    /// <summary>One numeral, or a run of them where there are too many.</summary>
    internal readonly record struct Mark(string Label, double TrueX, double ShownX);

    /// <summary>Marks for events at true places, in order; neighbors closest to each other are joined until all fit.</summary>
    public static IReadOnlyList<Mark> Arrange(IReadOnlyList<(int Number, double X)> events, double left, double right, double step)
    {
        var groups = events.Select(e => (First: e.Number, Last: e.Number, e.X)).ToList();
        while (groups.Count > 1 && groups.Sum(group => WidthOf(group.First, group.Last, step)) > right - left)
        {
            var at = Enumerable.Range(0, groups.Count - 1).MinBy(i => groups[i + 1].X - groups[i].X);
            groups[at] = (groups[at].First, groups[at + 1].Last, groups[at].X);
            groups.RemoveAt(at + 1);
        }

        var shown = new double[groups.Count];
        var edge = left;
        for (var i = 0; i < groups.Count; i++)
        {
            var width = WidthOf(groups[i].First, groups[i].Last, step);
            shown[i] = Math.Max(groups[i].X, edge + (width / 2));
            edge = shown[i] + (width / 2);
        }

        edge = right;
        for (var i = groups.Count - 1; i >= 0; i--)
        {
            var width = WidthOf(groups[i].First, groups[i].Last, step);
            shown[i] = Math.Min(shown[i], edge - (width / 2));
            edge = shown[i] - (width / 2);
        }

        return [.. groups.Select((group, i) => new Mark(LabelOf(group.First, group.Last), group.X, shown[i]))];
    }

    public static void Write(PictureWriter svg, IReadOnlyList<Mark> marks, double top)
    {
        foreach (var mark in marks)
        {
            svg.Text("strong", mark.ShownX, 14, mark.Label, Anchor.Middle)
                .Path("lead-line", $"M{SvgWriter.Number(mark.ShownX)} 19V25L{SvgWriter.Number(mark.TrueX)} {SvgWriter.Number(top - 6)}V{SvgWriter.Number(top)}");
        }
    }

    private static string LabelOf(int first, int last) =>
        first == last
            ? first.ToString(CultureInfo.InvariantCulture)
            : string.Create(CultureInfo.InvariantCulture, $"{first}–{last}");

    private static double WidthOf(int first, int last, double step) =>
        Math.Max(step, PictureBox.TextWidth(LabelOf(first, last)) + 6);
}
