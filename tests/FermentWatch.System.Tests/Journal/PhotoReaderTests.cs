using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Photos;
using SkiaSharp;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

public sealed class PhotoReaderTests : IDisposable
{
    private readonly PhotoReader _reader = new();

    // Where the first row and the first column are to be seen, by value of the tag. CIPA DC-008 (Exif 2.32), table of Orientation.
    [Theory]
    [InlineData(1, "top-left", "top-right")]
    [InlineData(2, "top-right", "top-left")]
    [InlineData(3, "bottom-right", "bottom-left")]
    [InlineData(4, "bottom-left", "bottom-right")]
    [InlineData(5, "top-left", "bottom-left")]
    [InlineData(6, "top-right", "bottom-right")]
    [InlineData(7, "bottom-right", "top-right")]
    [InlineData(8, "bottom-left", "top-left")]
    public async Task PhotoOfATurnedCamera_StandsUprightAndTellsNoPlace(int orientation, string red, string blue)
    {
        var file = PhotoSamples.WithPlace(2000, 1000, (ushort)orientation);
        Assert.True(Holds(file, PhotoSamples.Maker) && PhotoSamples.Segments(file).Any(segment => segment.Marker == 0xE1), "The example tells no place.");
        var photo = await TakenAsync(file);
        Assert.Equal(orientation < 5 ? (1600, 800) : (800, 1600), (photo.Width, photo.Height));
        foreach (var (jpeg, longest) in ((byte[], int)[])[(photo.Jpeg, 1600), (photo.Small, 320)])
        {
            using var bitmap = SKBitmap.Decode(jpeg);
            Assert.Equal(longest, Math.Max(bitmap.Width, bitmap.Height));
            Assert.Equal((red, blue), (Corner(bitmap, color => color is { Red: > 200, Blue: < 60 }), Corner(bitmap, color => color is { Blue: > 200, Red: < 60 })));
            Assert.False(Holds(jpeg, PhotoSamples.Maker) || Holds(jpeg, "Exif"));
            // Of the segments for programs only the plain JFIF header is there.
            Assert.DoesNotContain(PhotoSamples.Segments(jpeg), segment => segment.Marker is >= 0xE1 and <= 0xEF or 0xFE);
        }
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg)]
    [InlineData(SKEncodedImageFormat.Png)]
    [InlineData(SKEncodedImageFormat.Webp)]
    public async Task SmallPictureOfEachFormat_KeepsItsSize(SKEncodedImageFormat format)
    {
        var photo = await TakenAsync(PhotoSamples.Picture(120, 90, format));
        Assert.Equal((120, 90), (photo.Width, photo.Height));
        using var bitmap = SKBitmap.Decode(photo.Jpeg);
        Assert.Equal("top-left", Corner(bitmap, color => color is { Red: > 200, Blue: < 60 }));
    }

    [Fact]
    public async Task FileThatIsNoPhoto_IsRefusedWithItsReason()
    {
        var jpeg = PhotoSamples.Picture(1200, 900, SKEncodedImageFormat.Jpeg);
        var noise = new byte[4096];
        new Random(1).NextBytes(noise);
        Assert.Equal(PhotoFault.NoPicture, await FaultAsync(Encoding.UTF8.GetBytes("time,gravity\n")));
        Assert.Equal(PhotoFault.NoPicture, await FaultAsync(Encoding.UTF8.GetBytes("<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>")));
        Assert.Equal(PhotoFault.NoPicture, await FaultAsync(noise));
        Assert.Equal(PhotoFault.NoPicture, await FaultAsync("BM"u8.ToArray()));
        Assert.Equal(PhotoFault.Damaged, await FaultAsync(jpeg[..(jpeg.Length / 2)]));
        Assert.Equal(PhotoFault.TooManyPixels, await FaultAsync(PhotoSamples.Announcing(jpeg, 9000, 9000)));
        Assert.Equal(PhotoFault.TooLarge, await FaultAsync(new byte[PhotoReader.LargestFile + 1]));
    }

    [Fact]
    public async Task PictureChangedAnywhere_IsAPhotoOrRefusedAndNeverAnException()
    {
        var random = new Random(20261125);
        foreach (var format in (SKEncodedImageFormat[])[SKEncodedImageFormat.Jpeg, SKEncodedImageFormat.Png, SKEncodedImageFormat.Webp])
        {
            var file = PhotoSamples.Picture(64, 48, format);
            for (var i = 0; i < 200; i++)
            {
                var changed = file.ToArray();
                changed[random.Next(changed.Length)] = (byte)random.Next(256);
                changed[random.Next(changed.Length)] = (byte)random.Next(256);
                using var stream = new MemoryStream(changed[..(changed.Length - random.Next(20))]);
                var (photo, fault) = await _reader.ReadAsync(stream, TestContext.Current.CancellationToken);
                Assert.True(photo is null != fault is null, $"{format}, round {i}, seed 20261125");
            }
        }
    }

    public void Dispose() => _reader.Dispose();

    private static bool Holds(byte[] file, string text) => file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(text)) >= 0;

    private static string Corner(SKBitmap bitmap, Func<SKColor, bool> isIt)
    {
        foreach (var (name, x, y) in ((string, double, double)[])[("top-left", 0.25, 0.25), ("top-right", 0.75, 0.25), ("bottom-left", 0.25, 0.75), ("bottom-right", 0.75, 0.75)])
        {
            if (isIt(bitmap.GetPixel((int)(bitmap.Width * x), (int)(bitmap.Height * y))))
            {
                return name;
            }
        }

        return "nowhere";
    }

    private async Task<Photo> TakenAsync(byte[] file)
    {
        using var stream = new MemoryStream(file);
        var (photo, fault) = await _reader.ReadAsync(stream, TestContext.Current.CancellationToken);
        Assert.Null(fault);
        return photo!;
    }

    private async Task<PhotoFault?> FaultAsync(byte[] file)
    {
        using var stream = new MemoryStream(file);
        return (await _reader.ReadAsync(stream, TestContext.Current.CancellationToken)).Fault;
    }
}
