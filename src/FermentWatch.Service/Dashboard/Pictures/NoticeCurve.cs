using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The curve of a batch as a notice carries it: 480 x 240 pixels, at most 30 kB.</summary>
internal static class NoticeCurve
{
    /// <summary>Most bytes of the file.</summary>
    public const int MostBytes = 30_000;

    // Finest first.
    private static readonly int[] Steps = [1, 4, 8, 16, 32];

    private const int Width = 480;
    private const int Height = 240;

    /// <summary>The picture; null while there is nothing to draw, or where it would be larger than a notice may carry.</summary>
    public static NoticePicture? Of(BatchView view, Reader reader)
    {
        using var pixels = new PixelWriter(Width, Height);
        if (!DrawOn(pixels, view, reader))
        {
            return null;
        }

        foreach (var step in Steps)
        {
            if (pixels.ToPng(step) is { Length: <= MostBytes } png)
            {
                return new NoticePicture(png, pixels.Description);
            }
        }

        return null;
    }

    /// <summary>Draws it; false while there is nothing to draw.</summary>
    public static bool DrawOn(PixelWriter pixels, BatchView view, Reader reader) => CurvePicture.DrawOn(
        pixels, view, reader, new PictureRequest(PictureWidth.Phone), CurveWindow.FuturesOf(view).Count > 0 ? PictureBox.Notice : PictureBox.NoticeWithoutOdds);
}
