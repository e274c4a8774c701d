using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>A mark on the time axis with its words.</summary>
internal readonly record struct TimeTick(double X, string Label);

/// <summary>Days, or hours where the axis is short, on the reader's calendar, far enough apart to read.</summary>
internal static class TimeTicks
{
    private const double LeastDistance = 66;

    public static IReadOnlyList<TimeTick> Of(TimeAxis axis, Reader reader)
    {
        var span = axis.Until - axis.From;
        var most = Math.Max(1, (int)((axis.ToPlace - axis.FromPlace) / LeastDistance));
        return span < TimeSpan.FromHours(40) ? Hours(axis, reader, span, most) : Days(axis, reader, span, most);
    }

    private static List<TimeTick> Days(TimeAxis axis, Reader reader, TimeSpan span, int most)
    {
        var step = ((int[])[1, 2, 3, 5, 7, 14, 28, 56, 112, 224]).FirstOrDefault(days => span.TotalDays / days <= most, 448);
        var ticks = new List<TimeTick>();
        for (var day = reader.DateOf(axis.From); ; day = day.AddDays(step))
        {
            var time = reader.StartOf(day);
            if (time > axis.Until)
            {
                return ticks;
            }

            if (time >= axis.From)
            {
                ticks.Add(new TimeTick(axis.At(time), reader.ShortDay(time)));
            }
            else if (axis.From - time < TimeSpan.FromDays(1) && ticks.Count == 0)
            {
                // The first day is named at the edge of the picture, where the ferment began within it.
                ticks.Add(new TimeTick(axis.FromPlace, reader.ShortDay(axis.From)));
            }
        }
    }

    private static List<TimeTick> Hours(TimeAxis axis, Reader reader, TimeSpan span, int most)
    {
        var step = ((int[])[1, 2, 3, 6, 12]).FirstOrDefault(hours => span.TotalHours / hours <= most, 24);
        var ticks = new List<TimeTick>();
        for (var time = reader.StartOf(reader.DateOf(axis.From)); time <= axis.Until; time += TimeSpan.FromHours(step))
        {
            if (time >= axis.From)
            {
                ticks.Add(new TimeTick(axis.At(time), reader.Clock(time.ToDateTimeOffset())));
            }
        }

        return ticks;
    }

    /// <summary>Writes ticks below a line; those whose words would run into anything between two places are left out.</summary>
    public static void Write(PictureWriter svg, IEnumerable<TimeTick> ticks, double lineY, double textY, double left, double right, (double From, double To)? taken = null)
    {
        var free = double.MinValue;
        foreach (var tick in ticks)
        {
            var width = PictureBox.TextWidth(tick.Label);
            var anchor = tick.X - (width / 2) < left ? Anchor.Start : tick.X + (width / 2) > right ? Anchor.End : Anchor.Middle;
            var start = anchor switch { Anchor.Start => tick.X, Anchor.End => tick.X - width, _ => tick.X - (width / 2) };
            if (start < free || (taken is { } zone && start < zone.To && start + width > zone.From))
            {
                continue;
            }

            free = start + width + 8;

            svg.Path("range", $"M{SvgWriter.Number(tick.X)} {SvgWriter.Number(lineY)}v4").Text("soft", tick.X, textY, tick.Label, anchor);
        }
    }
}
