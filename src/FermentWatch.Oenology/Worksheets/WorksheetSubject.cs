namespace FermentWatch.Oenology.Worksheets;

/// <summary>What a worksheet belongs to, in the order in which a batch needs them.</summary>
public enum WorksheetSubject
{
    /// <summary>Gravity, sugar and alcohol.</summary>
    Gravity,

    /// <summary>Making the must.</summary>
    Must,

    /// <summary>Feeding the yeast.</summary>
    Nutrients,

    /// <summary>A ferment that has stopped.</summary>
    Restart,

    /// <summary>Sulfite and sorbate.</summary>
    Stabilizing,

    /// <summary>Acid and pH.</summary>
    Acidity,

    /// <summary>Sweetening.</summary>
    Sweetening,

    /// <summary>Blending and dilution.</summary>
    Blending,

    /// <summary>Tannin and oak.</summary>
    Tannin,

    /// <summary>Trials on the bench and tasting.</summary>
    Tasting,

    /// <summary>Carbon dioxide in room, wine and bottle.</summary>
    CarbonDioxide,

    /// <summary>Bottles and labels.</summary>
    Bottling,
}
