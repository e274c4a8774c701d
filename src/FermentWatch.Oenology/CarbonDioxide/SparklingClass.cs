using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>Class of a wine by its pressure at 20 °C, after the law of the European Union. It says nothing about what a bottle holds.</summary>
public enum SparklingClass
{
    /// <summary>Below 1 bar: no sparkling wine by law. A still bottle carries no pressure rating even so.</summary>
    Still = 1,

    /// <summary>1 to 2.5 bar: semi-sparkling.</summary>
    SemiSparkling,

    /// <summary>Above 2.5 and below 3 bar: between the classes.</summary>
    BetweenClasses,

    /// <summary>From 3 bar: sparkling.</summary>
    Sparkling,

    /// <summary>From 3.5 bar: has the pressure of quality sparkling.</summary>
    QualitySparkling,
}

/// <summary>Puts a pressure into its class.</summary>
public static class SparklingClasses
{
    /// <summary>The class of a gauge pressure at 20 °C.</summary>
    /// <remarks>
    /// <para><b>Bounds.</b> 1, 2.5, 3 and 3.5 bar above the air at 20 °C. <b>Source.</b> [EU13082013] for 3 bar; the others in summaries of it.
    /// <b>Check.</b> SparklingClassTests.</para>
    /// </remarks>
    /// <param name="gaugeBarAt20">Pressure above that of the air at 20 °C. [bar]</param>
    public static SparklingClass Of(double gaugeBarAt20) => gaugeBarAt20 switch
    {
        >= 3.5 => SparklingClass.QualitySparkling,
        >= 3 => SparklingClass.Sparkling,
        > 2.5 => SparklingClass.BetweenClasses,
        >= 1 => SparklingClass.SemiSparkling,
        _ => SparklingClass.Still,
    };

    /// <summary>Its words.</summary>
    public static Phrase Words(SparklingClass sparkling) => sparkling switch
    {
        SparklingClass.SemiSparkling => "semi-sparkling",
        SparklingClass.BetweenClasses => "between semi-sparkling and sparkling",
        SparklingClass.Sparkling => "sparkling",
        SparklingClass.QualitySparkling => "sparkling, with the pressure of quality sparkling",
        _ => "not sparkling",
    };
}
