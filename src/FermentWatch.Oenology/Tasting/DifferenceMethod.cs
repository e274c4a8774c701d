using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.Tasting;

/// <summary>How two samples are compared.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<DifferenceMethod>))]
public enum DifferenceMethod
{
    /// <summary>Three glasses, two alike: which is the odd one? Guessing is right one time in three (ISO 4120).</summary>
    Triangle,

    /// <summary>A marked reference and two glasses: which one is the reference? Guessing is right one time in two (ISO 10399).</summary>
    DuoTrio,

    /// <summary>Two glasses: which is sweeter? One-sided, only when the direction was fixed before anybody tasted (ISO 5495).</summary>
    PairedDirectional,

    /// <summary>Two glasses: which do you prefer? Two-sided, since either may win (ISO 5495).</summary>
    PairedTwoSided,

    /// <summary>One spiked glass among three at one concentration. Guessing is right one time in three (ISO 13301).</summary>
    OneOfThree,
}

/// <summary>What an answer count says. There is no verdict 'the same': no significant result is no proof of sameness.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<TastingVerdict>))]
public enum TastingVerdict
{
    /// <summary>So few tasters that even if all agree, chance does it too often.</summary>
    NotEnoughTasters,

    /// <summary>Chance alone may have done it. Not a proof that the samples are alike.</summary>
    NotSignificant,

    /// <summary>Chance alone would do it no more often than the level that was asked for.</summary>
    Significant,
}
