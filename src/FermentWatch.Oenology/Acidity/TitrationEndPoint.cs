using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>Where a titration of acidity ends.</summary>
public enum TitrationEndPoint
{
    /// <summary>pH 8.2, or the pink of phenolphthalein: most kits, most laboratories in the United States and Australia.</summary>
    EightPointTwo,

    /// <summary>pH 7.0, the method of OIV.</summary>
    Seven,
}

/// <summary>What was measured of a batch's acid.</summary>
/// <param name="Ph">pH of the degassed sample, by a calibrated meter.</param>
/// <param name="Acidity">Titratable acidity of the degassed sample: dissolved carbon dioxide counts as acid.</param>
/// <param name="Alcohol">Alcoholic strength; 0 for must.</param>
/// <param name="EndPoint">End point of the titration.</param>
public readonly record struct AcidMeasurement(Ph Ph, TitratableAcidity Acidity, AlcoholByVolume Alcohol, TitrationEndPoint EndPoint = TitrationEndPoint.EightPointTwo)
{
    /// <summary>pH at which the titration ended.</summary>
    public Ph EndPh => Quantities.Ph.FromValue(EndPoint is TitrationEndPoint.Seven ? 7.0 : 8.2);
}
