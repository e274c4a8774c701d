using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard.Pictures;
using FermentWatch.Service.Dashboard.Words;
using SkiaSharp;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>The curve in a notice: its size, its weight, and words that can be read in the pixels themselves.</summary>
public sealed class NoticeCurveTests
{
    // [WCAG22] 1.4.3: contrast of at least 4.5 to 1.
    private const double LeastContrast = 4.5;

    private static readonly Reader Reader = new(TimeZoneInfo.Utc);

    public static TheoryData<string> States => ["mid", "lagging", "still", "silent", "long", "no odds"];

    [Theory]
    [MemberData(nameof(States))]
    public void Picture_IsOf480By240PixelsAndAtMost30Kilobytes(string state)
    {
        using (var pixels = new PixelWriter(480, 240))
        {
            NoticeCurve.DrawOn(pixels, View(state), Reader);
            TestContext.Current.TestOutputHelper?.WriteLine(string.Join(", ", ((int[])[1, 4, 8, 16, 32]).Select(step => $"{step}: {pixels.ToPng(step).Length} bytes")));
        }

        var picture = NoticeCurve.Of(View(state), Reader);
        Assert.NotNull(picture);
        TestContext.Current.TestOutputHelper?.WriteLine($"{state}: {picture.Png.Length} bytes, {picture.Description}");
        Assert.InRange(picture.Png.Length, 1_000, NoticeCurve.MostBytes);
        // ISO/IEC 15948: signature, then IHDR with width and height as big-endian numbers.
        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], picture.Png[..8].ToArray());
        using var bitmap = SKBitmap.Decode(picture.Png.Span);
        Assert.Equal((480, 240), (bitmap.Width, bitmap.Height));
        Assert.NotEmpty(picture.Description);
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is { Length: > 0 } folder)
        {
            Directory.CreateDirectory(folder);
            File.WriteAllBytes(Path.Combine(folder, $"notice-{state.Replace(' ', '-')}.png"), picture.Png.ToArray());
        }
    }

    [Theory]
    [MemberData(nameof(States))]
    public void EveryWord_StandsInThePictureWithInkThatContrasts(string state)
    {
        using var pixels = new PixelWriter(480, 240);
        Assert.True(NoticeCurve.DrawOn(pixels, View(state), Reader));
        Assert.True(pixels.Texts.Count >= 4, $"only {pixels.Texts.Count} words");
        using var bitmap = SKBitmap.Decode(pixels.ToPng());
        foreach (var (text, place) in pixels.Texts)
        {
            Assert.True(place is { Left: >= 0, Top: >= 0, Right: <= 480, Bottom: <= 240 }, $"{state}: '{text}' at {place} is outside");
            // A capital of 14 pixels of this face is about 10 high.
            Assert.True(place.Height >= 8 || text.All(letter => letter is '–' or '.' or '-'), $"'{text}' is {place.Height} pixels high");
            var paper = Luminance(PixelLook.Color("paper"));
            var (ink, all) = (0, 0);
            for (var x = (int)place.Left; x < place.Right; x++)
            {
                for (var y = (int)place.Top; y < place.Bottom; y++)
                {
                    all++;
                    ink += Contrast(Luminance(bitmap.GetPixel(x, y)), paper) >= LeastContrast ? 1 : 0;
                }
            }

            // Strokes of letters cover about a fifth of their rectangle; nothing drawn, or a black box, would not.
            Assert.True(ink >= 0.06 * all && ink <= 0.75 * all, $"{state}: '{text}' has {ink} of {all} pixels of ink");
        }
    }

    [Fact]
    public void Words_AreTheWordsThatTheFontDraws()
    {
        using var pixels = new PixelWriter(480, 240);
        Assert.True(NoticeCurve.DrawOn(pixels, View("mid"), Reader));
        using var bitmap = SKBitmap.Decode(pixels.ToPng());
        var (text, place) = pixels.Texts.Single(one => one.Text.Contains("g/L now", StringComparison.Ordinal));
        var right = Likeness(bitmap, text, place);
        // The same letters in another order, and other figures, fit worse: the picture says this and nothing else.
        Assert.True(right > 0.95, $"'{text}' agrees with its pixels by {right:0.000}");
        foreach (var other in new[] { new string([.. text.Reverse()]), text.Replace('1', '7'), text.Replace("now", "won", StringComparison.Ordinal) }.Where(other => other != text))
        {
            Assert.True(Likeness(bitmap, other, place) < right - 0.02, $"'{other}' would fit as well as '{text}'");
        }
    }

    [Fact]
    public void BatchWithoutReadings_HasNoPicture() => Assert.Null(NoticeCurve.Of(InventedCellar.WithoutReadings().View, Reader));

    private static BatchView View(string state) => state switch
    {
        "mid" => InventedCellar.MidFerment().View,
        "lagging" => InventedCellar.Lagging().View,
        "still" => InventedCellar.LyingStill().View,
        "silent" => InventedCellar.Silent().View,
        "long" => InventedCellar.MidFerment(present: 1.004, name: "A name as long as a name may be, and then some more of it").View,
        _ => InventedCellar.MidFerment().View with { Forecast = null },
    };

    /// <summary>Correlation of the pixels at a place with a text drawn alone there.</summary>
    private static double Likeness(SKBitmap bitmap, string text, SKRect place)
    {
        using var font = new SKFont(PixelLook.Typeface, PixelLook.TextHeight) { Edging = SKFontEdging.Antialias, Hinting = SKFontHinting.None, Embolden = true };
        using var surface = SKSurface.Create(new SKImageInfo(bitmap.Width, bitmap.Height));
        surface.Canvas.Clear(PixelLook.Color("paper"));
        font.MeasureText(text, out var ink);
        using var paint = new SKPaint { IsAntialias = true, Color = PixelLook.Color("ink") };
        surface.Canvas.DrawText(text, place.Left - ink.Left, place.Top - ink.Top, SKTextAlign.Left, font, paint);
        using var image = surface.Snapshot();
        using var alone = SKBitmap.FromImage(image);
        var pairs = new List<(double A, double B)>();
        for (var x = (int)place.Left; x < place.Right; x++)
        {
            for (var y = (int)place.Top; y < place.Bottom; y++)
            {
                pairs.Add((Luminance(bitmap.GetPixel(x, y)), Luminance(alone.GetPixel(x, y))));
            }
        }

        var (a, b) = (pairs.Average(pair => pair.A), pairs.Average(pair => pair.B));
        return pairs.Sum(pair => (pair.A - a) * (pair.B - b)) / Math.Sqrt(pairs.Sum(pair => Math.Pow(pair.A - a, 2)) * pairs.Sum(pair => Math.Pow(pair.B - b, 2)));
    }

    private static double Luminance(SKColor color)
    {
        // [WCAG22], relative luminance.
        static double Channel(byte value) => value / 255.0 is var c && c <= 0.04045 ? c / 12.92 : Math.Pow(((value / 255.0) + 0.055) / 1.055, 2.4);
        return (0.2126 * Channel(color.Red)) + (0.7152 * Channel(color.Green)) + (0.0722 * Channel(color.Blue));
    }

    private static double Contrast(double one, double other) => (Math.Max(one, other) + 0.05) / (Math.Min(one, other) + 0.05);
}
