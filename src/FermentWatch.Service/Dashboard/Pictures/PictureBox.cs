namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>Measures of one of the view boxes. Text is 14 units high in all: 12.5 px where a phone shows 340 units on 304 px.</summary>
/// <param name="CssClass">Class by which the style sheet shows one of the two.</param>
/// <param name="Width">Width of the view box.</param>
/// <param name="Edge">Left and right margin.</param>
/// <param name="Top">Where the plot begins, below the lane of events.</param>
/// <param name="Base">The zero line of the curve.</param>
/// <param name="LaneStep">Least distance of two numerals in the lane.</param>
/// <param name="DotRadius">Radius of a chance dot where there is room.</param>
/// <param name="FutureFrom">Width of a future where it begins.</param>
/// <param name="FutureTo">Width of a future where it ends.</param>
/// <param name="Buckets">Most columns of a measured line, each with its lowest and highest place. Both boxes of a page hold fewer than 1,000 together.</param>
internal sealed record PictureBox(
    string CssClass,
    double Width,
    double Edge,
    double Top,
    double Base,
    double LaneStep,
    double DotRadius,
    double FutureFrom,
    double FutureTo,
    int Buckets)
{
    public static PictureBox Phone { get; } = new("phone", 340, 4, 52, 258, 17, 4.4, 1.3, 0.6, 260);

    public static PictureBox Wide { get; } = new("wide", 700, 8, 56, 320, 24, 6.4, 1.7, 0.7, 520) { Chances = 50 };

    /// <summary>480 x 240 pixels of a notice, whole with odds below the curve.</summary>
    public static PictureBox Notice { get; } = new("notice", 480, 6, 44, 168, 20, 5, 1.4, 0.6, 470) { DotRoom = 30 };

    /// <summary>The same without odds: the curve gets their room.</summary>
    public static PictureBox NoticeWithoutOdds { get; } = Notice with { Base = 212 };

    /// <summary>How many dots show the odds: each is one chance in as many.</summary>
    public int Chances { get; init; } = 20;

    /// <summary>Room for chance dots below the zero line.</summary>
    public double DotRoom { get; init; } = 50;

    public double Right => Width - Edge;

    /// <summary>Whether dates stand in a row of their own below the chance dots; a notice has no room for it.</summary>
    public bool HasDateRow => CssClass != "notice";

    public bool IsPhone => CssClass == "phone";

    public static PictureBox Of(PictureWidth width) => width == PictureWidth.Phone ? Phone : Wide;

    /// <summary>About how wide a text of this length is, in units: 14-unit sans figures and letters average just under half an em and a bit.</summary>
    public static double TextWidth(string text) => text.Length * 7.4;

    /// <summary>The same for bold letters of a wide sans.</summary>
    public static double StrongWidth(string text) => text.Length * 8.8;
}
