using System.Globalization;
using System.Text;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Writes SVG elements. Classes come from the style sheet, numbers get one decimal, every text is encoded.</summary>
internal sealed class SvgWriter : PictureWriter
{
    private readonly StringBuilder _out = new();

    /// <summary>A number of the picture: one decimal, never scientific.</summary>
    public static string Number(double value) => Math.Round(value, 1).ToString("0.#", CultureInfo.InvariantCulture) is var text && text == "-0" ? "0" : text;

    /// <summary>Points as path data after a move: 'M4 60.8 5.2 61.7'.</summary>
    public static string Line(IEnumerable<Spot> spots)
    {
        var data = new StringBuilder("M");
        foreach (var spot in spots)
        {
            data.Append(data.Length > 1 ? " " : "").Append(Number(spot.X)).Append(' ').Append(Number(spot.Y));
        }

        return data.ToString();
    }

    /// <inheritdoc/>
    public override SvgWriter Open(string id, string widthClass, double width, double height, string title, string description, double top = 0)
    {
        _out.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{widthClass}\" viewBox=\"0 {Number(top)} {Number(width)} {Number(height - top)}\" role=\"img\" aria-labelledby=\"{id}t {id}d\">")
            .Append(CultureInfo.InvariantCulture, $"<title id=\"{id}t\">{PageText.Encode(title)}</title><desc id=\"{id}d\">{PageText.Encode(description)}</desc>");
        return this;
    }

    public override SvgWriter Path(string cssClass, string data)
    {
        _out.Append(CultureInfo.InvariantCulture, $"<path class=\"{cssClass}\" d=\"{data}\"/>");
        return this;
    }

    public override SvgWriter Circle(string cssClass, Spot center, double radius)
    {
        _out.Append(CultureInfo.InvariantCulture, $"<circle class=\"{cssClass}\" cx=\"{Number(center.X)}\" cy=\"{Number(center.Y)}\" r=\"{Number(radius)}\"/>");
        return this;
    }

    public override SvgWriter Text(string cssClass, double x, double y, string text, Anchor anchor = Anchor.Start)
    {
        var align = anchor switch { Anchor.Middle => " text-anchor=\"middle\"", Anchor.End => " text-anchor=\"end\"", _ => "" };
        _out.Append(CultureInfo.InvariantCulture, $"<text class=\"{cssClass}\" x=\"{Number(x)}\" y=\"{Number(y)}\"{align}>{PageText.Encode(text)}</text>");
        return this;
    }

    /// <inheritdoc/>
    public override SvgWriter ClipTo(string id, double left, double top, double right, double bottom)
    {
        _out.Append(CultureInfo.InvariantCulture, $"<clipPath id=\"{id}\"><rect x=\"{Number(left)}\" y=\"{Number(top)}\" width=\"{Number(right - left)}\" height=\"{Number(bottom - top)}\"/></clipPath><g clip-path=\"url(#{id})\">");
        return this;
    }

    public override SvgWriter EndGroup()
    {
        _out.Append("</g>");
        return this;
    }

    public string Close() => _out.Append("</svg>").ToString();
}

/// <summary>A place in the picture, in its own units; y grows downward.</summary>
internal readonly record struct Spot(double X, double Y);

/// <summary>Which part of a text stands at its place.</summary>
internal enum Anchor
{
    Start = 0,
    Middle = 1,
    End = 2,
}
