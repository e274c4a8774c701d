using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>A sweetener that wine yeast can't ferment, by how sweet it is beside sucrose.</summary>
/// <param name="Code">Its name in commands.</param>
/// <param name="LeastSweet">Sweetness of a gram at the least, sucrose 1.</param>
/// <param name="MostSweet">Sweetness of a gram at the most.</param>
public sealed record UnfermentableSweetener(string Code, double LeastSweet, double MostSweet)
{
    /// <summary>Lactose: bacteria can use it.</summary>
    public static UnfermentableSweetener Lactose { get; } = new("lactose", RelativeSweetness.Lactose.Least, RelativeSweetness.Lactose.Most);

    /// <summary>Erythritol.</summary>
    public static UnfermentableSweetener Erythritol { get; } = new("erythritol", 0.6, 0.7);

    /// <summary>Xylitol: poisonous to dogs.</summary>
    public static UnfermentableSweetener Xylitol { get; } = new("xylitol", 0.9, 1.0);

    /// <summary>Steviol glycosides.</summary>
    public static UnfermentableSweetener Steviol { get; } = new("steviol", 200, 300);

    /// <summary>Sucralose.</summary>
    public static UnfermentableSweetener Sucralose { get; } = new("sucralose", 400, 700);

    /// <summary>Grams that taste about as sweet as so much sucrose: least and most. [g]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> c·V/sweetness. Sweetness grows faster than concentration (power 1.3, [Moskowitz1970]) and bends with acid and
    /// alcohol: begin below the least and taste.</para>
    /// <para><b>Error.</b> The range. <b>Source.</b> ranges from memory. <b>Check.</b> WorksheetCatalogTests (unfermentable-sweetener).</para>
    /// </remarks>
    public (double Least, double Most) GramsFor(SugarConcentration asSucrose, Volume volume) =>
        (asSucrose.GramsPerLiter * volume.Liters / MostSweet, asSucrose.GramsPerLiter * volume.Liters / LeastSweet);
}
