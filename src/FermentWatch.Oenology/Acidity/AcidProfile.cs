namespace FermentWatch.Oenology.Acidity;

/// <summary>Which acids a drink mostly holds. Only their proportions are used: the amount is fitted to the measured acidity.</summary>
public enum AcidProfile
{
    /// <summary>Grape wine before malolactic conversion.</summary>
    GrapeWine,

    /// <summary>Grape wine after malolactic conversion.</summary>
    GrapeWineAfterMalolactic,

    /// <summary>Grape must.</summary>
    GrapeMust,

    /// <summary>Mead or honey must.</summary>
    Mead,

    /// <summary>Cider, apple and stone fruit: mostly malic acid.</summary>
    MalicFruit,

    /// <summary>Berries and citrus fruit: mostly citric acid.</summary>
    CitricFruit,
}

/// <summary>Typical proportions of the acids.</summary>
public static class AcidProfiles
{
    /// <summary>Proportions of a profile, as the acids of a typical drink. [g/L]</summary>
    /// <remarks>
    /// <para><b>Valid.</b> Grape wine: middle of six white wines [Prenesti2012]. After malolactic conversion: the same with malic acid
    /// turned into lactic. Mead: gluconic acid of honey 3.9 to 11.7 g/kg [Mato1997], diluted, and acids of yeast. Must and fruit: from
    /// memory, the acid that leads and little else.</para>
    /// <para><b>Error.</b> A wrong profile moves a predicted change of pH by about a quarter of it: small beside how far wines differ.</para>
    /// <para><b>Source.</b> As named. <b>Check.</b> AcidBufferTests.</para>
    /// </remarks>
    public static AcidMixture MixtureOf(AcidProfile profile) => profile switch
    {
        AcidProfile.GrapeWine => AcidMixture.OfGramsPerLiter((WeakAcid.Tartaric, 3), (WeakAcid.Malic, 2), (WeakAcid.Lactic, 0.5), (WeakAcid.Succinic, 0.6), (WeakAcid.Citric, 0.3), (WeakAcid.Acetic, 0.3)),
        AcidProfile.GrapeWineAfterMalolactic => AcidMixture.OfGramsPerLiter((WeakAcid.Tartaric, 3), (WeakAcid.Lactic, 1.844), (WeakAcid.Succinic, 0.6), (WeakAcid.Citric, 0.3), (WeakAcid.Acetic, 0.3)),
        AcidProfile.GrapeMust => AcidMixture.OfGramsPerLiter((WeakAcid.Tartaric, 5), (WeakAcid.Malic, 3.5), (WeakAcid.Citric, 0.3)),
        AcidProfile.Mead => AcidMixture.OfGramsPerLiter((WeakAcid.Gluconic, 2.5), (WeakAcid.Citric, 0.1), (WeakAcid.Malic, 0.1), (WeakAcid.Succinic, 0.6), (WeakAcid.Acetic, 0.2)),
        AcidProfile.MalicFruit => AcidMixture.OfGramsPerLiter((WeakAcid.Malic, 5), (WeakAcid.Citric, 0.3), (WeakAcid.Succinic, 0.4), (WeakAcid.Acetic, 0.2)),
        AcidProfile.CitricFruit => AcidMixture.OfGramsPerLiter((WeakAcid.Citric, 5), (WeakAcid.Malic, 1), (WeakAcid.Succinic, 0.4), (WeakAcid.Acetic, 0.2)),
        _ => throw new ArgumentOutOfRangeException(nameof(profile), profile, "The profile must be one of those listed."),
    };
}
