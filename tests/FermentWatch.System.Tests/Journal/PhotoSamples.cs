using System.Text;
using SkiaSharp;

namespace FermentWatch.System.Tests.Journal;

/// <summary>Pictures as a camera writes them, with what it tells beside the picture.</summary>
internal static class PhotoSamples
{
    /// <summary>Stands in what the camera tells, where a search finds it.</summary>
    public const string Maker = "INVENTED-CAMERA";

    /// <summary>White, with a red corner where the rows and columns begin and a blue one at the end of the first row.</summary>
    public static byte[] Picture(int width, int height, SKEncodedImageFormat format)
    {
        using var bitmap = new SKBitmap(width, height);
        using var canvas = new SKCanvas(bitmap);
        using var paint = new SKPaint { Color = SKColors.Red };
        canvas.Clear(SKColors.White);
        canvas.DrawRect(0, 0, width / 2f, height / 2f, paint);
        paint.Color = SKColors.Blue;
        canvas.DrawRect(width / 2f, 0, width / 2f, height / 2f, paint);
        using var data = bitmap.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>A JPEG with maker, orientation and place in its Exif segment. CIPA DC-008 (Exif 2.32): sections 4.5 and 4.6.</summary>
    public static byte[] WithPlace(int width, int height, ushort orientation)
    {
        var jpeg = Picture(width, height, SKEncodedImageFormat.Jpeg);
        var tiff = new MemoryStream();
        using (var write = new BinaryWriter(tiff, Encoding.ASCII, leaveOpen: true))
        {
            write.Write("II"u8);
            write.Write((ushort)42);
            write.Write(8u);
            write.Write((ushort)3);
            Entry(write, 0x010F, 2, (uint)Maker.Length + 1, 50);
            Entry(write, 0x0112, 3, 1, orientation);
            Entry(write, 0x8825, 4, 1, 50 + (uint)Maker.Length + 1);
            write.Write(0u);
            write.Write(Encoding.ASCII.GetBytes(Maker + "\0"));
            // The place: a hemisphere and a latitude of 47° 8' 3".
            var latitude = 50u + (uint)Maker.Length + 1 + 2 + 24 + 4;
            write.Write((ushort)2);
            Entry(write, 0x0001, 2, 2, 'N');
            Entry(write, 0x0002, 5, 3, latitude);
            write.Write(0u);
            foreach (var part in (uint[])[47, 1, 8, 1, 3, 1])
            {
                write.Write(part);
            }
        }

        var exif = Encoding.ASCII.GetBytes("Exif\0\0").Concat(tiff.ToArray()).ToArray();
        var length = exif.Length + 2;
        return [.. jpeg[..2], 0xFF, 0xE1, (byte)(length >> 8), (byte)length, .. exif, .. jpeg[2..]];
    }

    /// <summary>The same JPEG with another size in its frame header: it announces more pixels than it has.</summary>
    public static byte[] Announcing(byte[] jpeg, ushort width, ushort height)
    {
        var changed = jpeg.ToArray();
        var at = Segments(jpeg).First(segment => segment.Marker is 0xC0 or 0xC2).Start;
        (changed[at + 5], changed[at + 6], changed[at + 7], changed[at + 8]) = ((byte)(height >> 8), (byte)height, (byte)(width >> 8), (byte)width);
        return changed;
    }

    /// <summary>The segments before the picture's data: marker and where its two bytes stand. ISO/IEC 10918-1, annex B.</summary>
    public static IEnumerable<(byte Marker, int Start)> Segments(byte[] jpeg)
    {
        for (var at = 2; jpeg[at + 1] != 0xDA; at += 2 + (jpeg[at + 2] << 8) + jpeg[at + 3])
        {
            yield return (jpeg[at + 1], at);
        }
    }

    private static void Entry(BinaryWriter write, ushort tag, ushort type, uint count, uint value)
    {
        write.Write(tag);
        write.Write(type);
        write.Write(count);
        write.Write(value);
    }
}
