using FermentWatch.Infrastructure.Storage;
using SkiaSharp;

namespace FermentWatch.Service.Photos;

/// <summary>Why a file is not taken as a photo.</summary>
public enum PhotoFault
{
    /// <summary>It has more bytes than <see cref="PhotoReader.LargestFile"/>.</summary>
    TooLarge = 1,

    /// <summary>It is no JPEG, PNG or WebP.</summary>
    NoPicture = 2,

    /// <summary>It has more pixels than <see cref="PhotoReader.MostPixels"/>.</summary>
    TooManyPixels = 3,

    /// <summary>It begins as a picture and cannot be read to its end.</summary>
    Damaged = 4,
}

/// <summary>A file read as a photo.</summary>
/// <param name="Photo">The photo; null when there is none.</param>
/// <param name="Fault">Why there is none; null when there is.</param>
public sealed record PhotoResult(Photo? Photo, PhotoFault? Fault);

/// <summary>Makes a photo anew from its pixels: upright, not larger than a page shows, and without what the camera wrote beside the picture, such as where it was taken.</summary>
public sealed class PhotoReader : IDisposable
{
    /// <summary>Most bytes of a file.</summary>
    public const long LargestFile = 20_000_000;

    /// <summary>Most pixels of a picture: its bitmap must fit into a small computer's memory.</summary>
    public const long MostPixels = 50_000_000;

    /// <summary>Longest edge of a stored photo. [pixels]</summary>
    public const int LongestEdge = 1600;

    /// <summary>Longest edge of the small one. [pixels]</summary>
    public const int LongestSmallEdge = 320;

    private const int Quality = 82;

    // One bitmap at a time.
    private readonly SemaphoreSlim _turn = new(1, 1);

    /// <summary>Reads a file.</summary>
    public async Task<PhotoResult> ReadAsync(Stream file, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (file.Length > LargestFile)
        {
            return new(null, PhotoFault.TooLarge);
        }

        await _turn.WaitAsync(cancellationToken);
        try
        {
            var bytes = new byte[file.Length];
            await file.ReadExactlyAsync(bytes, cancellationToken);
            return await Task.Run(() => Read(bytes), cancellationToken);
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private static PhotoResult Read(byte[] bytes)
    {
        using var data = SKData.CreateCopy(bytes);
        using var codec = SKCodec.Create(data);
        if (codec is null || codec.EncodedFormat is not (SKEncodedImageFormat.Jpeg or SKEncodedImageFormat.Png or SKEncodedImageFormat.Webp))
        {
            return new(null, PhotoFault.NoPicture);
        }

        var (width, height) = (codec.Info.Width, codec.Info.Height);
        if ((long)width * height > MostPixels)
        {
            return new(null, PhotoFault.TooManyPixels);
        }

        // A JPEG is read at the smallest of its own scales that is still as large as we keep.
        var size = codec.GetScaledDimensions(Math.Min(1f, (float)LongestEdge / Math.Max(width, height)));
        size = Math.Max(size.Width, size.Height) < Math.Min(LongestEdge, Math.Max(width, height)) ? new SKSizeI(width, height) : size;
        using var colors = SKColorSpace.CreateSrgb();
        using var bitmap = new SKBitmap(new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, colors));
        if (codec.GetPixels(bitmap.Info, bitmap.GetPixels()) != SKCodecResult.Success)
        {
            return new(null, PhotoFault.Damaged);
        }

        var (large, shown) = Drawn(bitmap, codec.EncodedOrigin, LongestEdge);
        var (small, _) = Drawn(bitmap, codec.EncodedOrigin, LongestSmallEdge);
        return new(new Photo(shown.Width, shown.Height, large, small), null);
    }

    private static (byte[] Jpeg, SKSizeI Size) Drawn(SKBitmap bitmap, SKEncodedOrigin origin, int longest)
    {
        var isTurned = origin >= SKEncodedOrigin.LeftTop;
        var (width, height) = isTurned ? (bitmap.Height, bitmap.Width) : (bitmap.Width, bitmap.Height);
        var scale = Math.Min(1, (double)longest / Math.Max(width, height));
        var size = new SKSizeI(Math.Max(1, (int)Math.Round(width * scale)), Math.Max(1, (int)Math.Round(height * scale)));
        // Without a color space of its own no profile is written: the numbers are sRGB already, which is what a picture without one means.
        using var surface = SKSurface.Create(new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul));
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale((float)size.Width / width, (float)size.Height / height);
        surface.Canvas.Concat(Upright(origin, bitmap.Width, bitmap.Height));
        using var image = SKImage.FromBitmap(bitmap);
        surface.Canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        using var made = surface.Snapshot();
        using var jpeg = made.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return (jpeg.ToArray(), size);
    }

    // Where the camera was held otherwise than upright. CIPA DC-008 (Exif 2.32), tag Orientation.
    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => SKMatrix.Identity,
    };
}
