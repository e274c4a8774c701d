using SkiaSharp;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Draws a picture into pixels, one a unit, on the pages' paper.</summary>
internal sealed class PixelWriter : PictureWriter, IDisposable
{
    private readonly int _width;
    private readonly int _height;
    private readonly SKSurface _surface;
    private readonly SKFont _font = new(PixelLook.Typeface, PixelLook.TextHeight) { Edging = SKFontEdging.Antialias, Hinting = SKFontHinting.None };
    private readonly List<(string Text, SKRect Place)> _texts = [];
    private double _down;

    public PixelWriter(int width, int height)
    {
        (_width, _height) = (width, height);
        _surface = SKSurface.Create(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        Canvas.Clear(PixelLook.Color("paper"));
    }

    /// <summary>The words drawn so far, each with the rectangle of its ink in pixels.</summary>
    public IReadOnlyList<(string Text, SKRect Place)> Texts => _texts;

    /// <summary>What the picture shows, in words.</summary>
    public string Description { get; private set; } = "";

    private SKCanvas Canvas => _surface.Canvas;

    /// <inheritdoc/>
    public override PixelWriter Open(string id, string widthClass, double width, double height, string title, string description, double top = 0)
    {
        // What is lower than the pixels stands in their middle.
        _down = ((_height - (height - top)) / 2) - top;
        Canvas.Translate((float)((_width - width) / 2), (float)_down);
        Description = title + ". " + description;
        return this;
    }

    /// <inheritdoc/>
    public override PixelWriter Path(string cssClass, string data)
    {
        using var path = SKPath.ParseSvgPathData(data);
        if (path is not null)
        {
            Draw(PixelLook.Of(cssClass), paint => Canvas.DrawPath(path, paint));
        }

        return this;
    }

    /// <inheritdoc/>
    public override PixelWriter Circle(string cssClass, Spot center, double radius)
    {
        Draw(PixelLook.Of(cssClass), paint => Canvas.DrawCircle((float)center.X, (float)center.Y, (float)radius, paint));
        return this;
    }

    /// <inheritdoc/>
    public override PixelWriter Text(string cssClass, double x, double y, string text, Anchor anchor = Anchor.Start)
    {
        var classes = cssClass.Split(' ');
        _font.Embolden = classes.Contains("strong");
        var align = anchor switch { Anchor.Middle => SKTextAlign.Center, Anchor.End => SKTextAlign.Right, _ => SKTextAlign.Left };
        using var paint = new SKPaint { IsAntialias = true };
        if (classes.Contains("halo"))
        {
            (paint.Style, paint.StrokeWidth, paint.StrokeJoin, paint.Color) = (SKPaintStyle.Stroke, PixelLook.HaloWidth, SKStrokeJoin.Round, PixelLook.Color("paper"));
            Canvas.DrawText(text, (float)x, (float)y, align, _font, paint);
        }

        (paint.Style, paint.Color) = (SKPaintStyle.Fill, PixelLook.Color(classes.Contains("soft") ? "ink-soft" : "ink"));
        Canvas.DrawText(text, (float)x, (float)y, align, _font, paint);
        var wide = _font.MeasureText(text, out var ink);
        ink.Offset((float)x - (anchor switch { Anchor.Middle => wide / 2, Anchor.End => wide, _ => 0 }), (float)(y + _down));
        _texts.Add((text, ink));
        return this;
    }

    /// <inheritdoc/>
    public override PixelWriter ClipTo(string id, double left, double top, double right, double bottom)
    {
        Canvas.Save();
        Canvas.ClipRect(new SKRect((float)left, (float)top, (float)right, (float)bottom), SKClipOperation.Intersect, antialias: true);
        return this;
    }

    /// <inheritdoc/>
    public override PixelWriter EndGroup()
    {
        Canvas.Restore();
        return this;
    }

    /// <summary>The picture as a PNG file.</summary>
    /// <param name="step">Each color is rounded to a multiple of this, 1 to 32: edges in fewer shades make a smaller file.</param>
    public byte[] ToPng(int step = 1)
    {
        using var image = _surface.Snapshot();
        using var bitmap = SKBitmap.FromImage(image);
        foreach (ref var value in bitmap.GetPixelSpan())
        {
            value = (byte)Math.Min(byte.MaxValue, (value + (step / 2)) / step * step);
        }

        using var pixels = bitmap.PeekPixels();
        // Without filters: flat areas and sharp lines are found by the compression itself.
        using var file = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.None, 9));
        return file!.ToArray();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _font.Dispose();
        _surface.Dispose();
    }

    private static void Draw(PixelLook.Shape look, Action<SKPaint> draw)
    {
        using var paint = new SKPaint { IsAntialias = true };
        if (look.Fill is { } fill)
        {
            (paint.Style, paint.Color) = (SKPaintStyle.Fill, PixelLook.Color(fill));
            draw(paint);
        }

        if (look.Line is { } line)
        {
            (paint.Style, paint.Color, paint.StrokeWidth) = (SKPaintStyle.Stroke, PixelLook.Color(line), look.Width);
            if (look.IsRound)
            {
                (paint.StrokeCap, paint.StrokeJoin) = (SKStrokeCap.Round, SKStrokeJoin.Round);
            }

            using var dash = look.Dash is { } lengths ? SKPathEffect.CreateDash(lengths, 0) : null;
            paint.PathEffect = dash;
            draw(paint);
        }
    }
}
