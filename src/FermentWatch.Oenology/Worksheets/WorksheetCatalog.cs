using FermentWatch.Oenology.Worksheets.Entries;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>Every worksheet, in one explicit list. A new one is one file under Entries and one line here.</summary>
/// <remarks>Keys that a batch fills in, the same in every sheet: <c>volume</c>, <c>original-gravity</c>, <c>present-gravity</c>,
/// <c>alcohol</c>, <c>temperature</c>, <c>ph</c>, <c>titratable-acidity</c> (as tartaric), <c>free-sulfite</c>, <c>total-sulfite</c>,
/// <c>nitrogen</c>, <c>sugar</c> (measured), <c>law</c>; <c>scale-step</c> is the division of the scale.</remarks>
public static class WorksheetCatalog
{
    /// <summary>Every worksheet, by subject in the order of a batch's life.</summary>
    public static IReadOnlyList<Worksheet> All { get; } =
    [
        AlcoholFromGravity.Sheet,
        GravityScales.Sheet,
        HydrometerCorrection.Sheet,
        HydrometerReading.Sheet,
        PotentialAlcoholEntry.Sheet,
        DryExtractEntry.Sheet,
        RefractometerInFerment.Sheet,
        StepFed.Sheet,
        MassLoss.Sheet,
        MustFromSweetener.Sheet,
        MustCorrection.Sheet,
        HoneyWaterEntry.Sheet,
        JuiceSugar.Sheet,
        NutrientMarks.Sheet,
        FermentHeat.Sheet,
        Sweeten.Sheet,
        UnfermentableEntry.Sheet,
        SweetnessWordEntry.Sheet,
        BlendWines.Sheet,
        PearsonSquareEntry.Sheet,
        DiluteOvershoot.Sheet,
        SulfiteBeforeInoculation.Sheet,
        TrialStock.Sheet,
        TrialScaleUp.Sheet,
        TastingDifference.Sheet,
        TasteThreshold.Sheet,
        AcidBeforeInoculation.Sheet,
        HoneyAcid.Sheet,
        MolecularSulfite.Sheet,
        SulfiteDoseEntry.Sheet,
        SulfiteWithoutTestKit.Sheet,
        SulfiteTablets.Sheet,
        SulfiteStockSolution.Sheet,
        SulfiteTotal.Sheet,
        SorbateEntry.Sheet,
        TitratableAcidityAs.Sheet,
        AcidAddition.Sheet,
        AcidBlendEntry.Sheet,
        Deacidification.Sheet,
        MalolacticEntry.Sheet,
        AcidDilution.Sheet,
        Suppleness.Sheet,
        AdditiveLimitsEntry.Sheet,
        RestartPlanEntry.Sheet,
        TanninPowderEntry.Sheet,
        TanninTeaEntry.Sheet,
        OakChipsEntry.Sheet,
        GasInRoom.Sheet,
        DissolvedGasEntry.Sheet,
        RefermentationPressure.Sheet,
        PrimingSugarEntry.Sheet,
        BottleCount.Sheet,
        LabelEntry.Sheet,
    ];

    /// <summary>The worksheet of this name, or null.</summary>
    public static Worksheet? Find(string name) => All.FirstOrDefault(sheet => string.Equals(sheet.Name, name, StringComparison.Ordinal));
}
