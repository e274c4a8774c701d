using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.Tasting;

/// <summary>A just-about-right answer. It names the direction of the next glass; liking doesn't.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<JustAboutRight>))]
public enum JustAboutRight
{
    /// <summary>Too little of it.</summary>
    TooLittle,

    /// <summary>Just about right.</summary>
    Right,

    /// <summary>Too much of it.</summary>
    TooMuch,
}

/// <summary>What is judged on a just-about-right scale.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<TasteQuality>))]
public enum TasteQuality
{
    /// <summary>Sweetness.</summary>
    Sweet,

    /// <summary>Acidity.</summary>
    Acid,

    /// <summary>Astringency and body of tannin.</summary>
    Tannin,

    /// <summary>Bitterness.</summary>
    Bitter,
}

/// <summary>What one taster said about one glass. Everything but taster and code may stay empty.</summary>
/// <param name="Taster">Who tasted.</param>
/// <param name="Code">Code on the glass.</param>
/// <param name="Sweet">Sweetness.</param>
/// <param name="Acid">Acidity.</param>
/// <param name="Tannin">Tannin.</param>
/// <param name="Bitter">Bitterness.</param>
/// <param name="Liking">Nine-point scale: 1 dislike extremely, 5 neither, 9 like extremely.</param>
/// <param name="Note">Words.</param>
public sealed record GlassScore(
    string Taster,
    string Code,
    JustAboutRight? Sweet = null,
    JustAboutRight? Acid = null,
    JustAboutRight? Tannin = null,
    JustAboutRight? Bitter = null,
    int? Liking = null,
    string Note = "")
{
    /// <summary>Lowest liking.</summary>
    public const int LowestLiking = 1;

    /// <summary>Highest liking.</summary>
    public const int HighestLiking = 9;

    /// <summary>The answer for one attribute, or null.</summary>
    public JustAboutRight? Of(TasteQuality attribute) => attribute switch
    {
        TasteQuality.Sweet => Sweet,
        TasteQuality.Acid => Acid,
        TasteQuality.Tannin => Tannin,
        _ => Bitter,
    };
}
