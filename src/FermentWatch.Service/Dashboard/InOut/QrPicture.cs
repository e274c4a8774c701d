using System.Globalization;
using System.Text;
using FermentWatch.Service.Dashboard.Words;
using QRCoder;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>Draws a QR code (ISO/IEC 18004) as SVG: dark on light whatever the theme, since readers expect it, with its quiet zone of four modules.</summary>
internal static class QrPicture
{
    /// <summary>The picture.</summary>
    /// <param name="text">What it says.</param>
    /// <param name="name">What it is called for who cannot see it.</param>
    public static string Draw(string text, string name)
    {
        using var generator = new QRCodeGenerator();
        // Level M survives a splash: about 15 % of the code may be lost.
        using var code = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var modules = code.ModuleMatrix;
        var path = new StringBuilder();
        for (var y = 0; y < modules.Count; y++)
        {
            for (var x = 0; x < modules[y].Count; x++)
            {
                if (modules[y][x])
                {
                    path.Append(CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
                }
            }
        }

        return string.Create(
            CultureInfo.InvariantCulture,
            $"""<svg viewBox="0 0 {modules.Count} {modules.Count}" role="img" aria-label="{PageText.Encode(name)}" shape-rendering="crispEdges"><rect width="{modules.Count}" height="{modules.Count}" fill="#fff"/><path fill="#000" d="{path}"/></svg>""");
    }
}
