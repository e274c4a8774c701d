using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The marks of planned nutrients on the curve: each a level that the curve will reach, or a time where only the clock tells.</summary>
internal static class NutrientLevels
{
    private const double LabelRoom = 16;

    /// <summary>Parts of the newest plan that were not given yet.</summary>
    public static IReadOnlyList<PlannedPart> Of(BatchView view) =>
        PlannedNutrients.Of(view) is { } plan ? [.. plan.Parts.Where(part => part.Part > plan.Given)] : [];

    public static void Write(PictureWriter svg, BatchView view, Reader reader, TimeAxis time, Axis height, CurveScale scale, PictureBox box)
    {
        double? labeled = null;
        foreach (var part in Of(view))
        {
            var words = PageText.Of("nutrient-mark", part.Part, part.Parts, reader.Field(part.Grams, "g", 1));
            if (part.Gravity is { } gravity)
            {
                var y = height.At(scale.Value(gravity));
                if (y < box.Top || y > box.Base)
                {
                    continue;
                }

                svg.Path("nutrient", $"M{SvgWriter.Number(box.Edge)} {SvgWriter.Number(y)}H{SvgWriter.Number(box.Right)}");
                if (labeled is null || Math.Abs(y - labeled.Value) >= LabelRoom)
                {
                    svg.Text("duetext halo", box.Edge + 4, y - 4, words);
                    labeled = y;
                }
            }
            else if (time.Shows(part.DueAt))
            {
                var x = time.At(part.DueAt);
                svg.Path("nutrient", $"M{SvgWriter.Number(x)} {SvgWriter.Number(box.Top)}V{SvgWriter.Number(box.Base)}");
            }
        }
    }
}
