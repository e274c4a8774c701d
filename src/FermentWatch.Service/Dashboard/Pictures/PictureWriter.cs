namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>What a picture is written on: SVG for a page, pixels for a notice. A class says how something looks.</summary>
internal abstract class PictureWriter
{
    /// <summary>Opens the picture with its name and finding in words. It ends at <paramref name="height"/>, and begins at <paramref name="top"/>.</summary>
    public abstract PictureWriter Open(string id, string widthClass, double width, double height, string title, string description, double top = 0);

    /// <summary>A shape from path data as SVG has it.</summary>
    public abstract PictureWriter Path(string cssClass, string data);

    public abstract PictureWriter Circle(string cssClass, Spot center, double radius);

    /// <summary>Words on their base line.</summary>
    public abstract PictureWriter Text(string cssClass, double x, double y, string text, Anchor anchor = Anchor.Start);

    /// <summary>What follows is cut at the rectangle, until <see cref="EndGroup"/>.</summary>
    public abstract PictureWriter ClipTo(string id, double left, double top, double right, double bottom);

    public abstract PictureWriter EndGroup();
}
