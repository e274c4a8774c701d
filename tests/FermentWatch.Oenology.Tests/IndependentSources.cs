namespace FermentWatch.Oenology.Tests;

/// <summary>Rows whose value comes from elsewhere than the formula under test, by the source that their table names.</summary>
internal static class IndependentSources
{
    /// <summary>Counted or enumerated by another program: independent of the code, but no published table.</summary>
    public const string SecondProgram = "second program";

    // Table, words of the source, name. The first that fits counts.
    private static readonly (string Table, string Words, string Name)[] Published =
    [
        ("sucrose_density_crc20.csv", "CRC Handbook", "CRC"),
        ("ethanol_density_tables.csv", "CRC Handbook", "CRC"),
        ("ethanol_density_tables.csv", "USP 29", "USP"),
        ("brix_sg.csv", "NBS Circular C440", "NBS"),
        ("dry_extract_tabarie.csv", "Kaiserliche Normal-Eichungs-Kommission", "official German table"),
        ("alcohol_relations.csv", "dataset", "Cutaia's beers"),
        ("measured-alcohol.csv", "in-sample", "measured wines"),
        ("potential_alcohol.csv", "AWRI", "AWRI"),
        ("honey_moisture_refractive_index.csv", "Chataway (Wedmore) table", "honey table"),
        ("composition.csv", "trade specification", "trade specification"),
        ("molecular-fraction.csv", "Univ. of California Cooperative Extension", "University of California"),
        ("additions-and-strength.csv", "worked example with factor", "trade pages"),
        ("additions-and-strength.csv", "printed by a winemakers guild", "trade pages"),
        ("ph-solver-cases.csv", "Staples and Bates", "primary pH standard"),
        ("ph-solver-cases.csv", "PHREEQC", "PHREEQC"),
        ("solubility.csv", "PHREEQC 3 with phreeqc.dat", "PHREEQC"),
        ("dissociation-constants.csv", "SIT/ThermoChimie data set", "other data sets"),
        ("dissociation-constants.csv", "Prenesti et al. 2012, Sci. World J. 249041 Table 4", "other data sets"),
        ("dissociation-constants.csv", "Prenesti et al. 2012 Table 4", "other data sets"),
        ("buffer-capacity.csv", "Handbook of Enology", "Handbook of Enology"),
        ("measured-changes.csv", "Petit Verdot 2021", "measured wines"),
        ("sensory-triangle-critical-values.csv", "FAO", "FAO"),
        ("sensory-duo-trio-and-paired-critical-values.csv", "Australian Wine Research Institute", "AWRI"),
        ("sensory-forced-choice.csv", "public university sensory course", "university exercise"),
        ("sensory-thresholds.csv", "Plane, Mattick, Weirs 1980", "published index"),
        ("yan-and-dap.csv", "printed by a page", "trade pages"),
        ("gas-yield.csv", "French prevention articles", "trade pages"),
        ("bench-trials.csv", "laboratory supplier bulletin", "trade pages"),
        ("bench-trials.csv", "club table prints 98.8 g", "trade pages"),
    ];

    private static readonly string[] Counted =
    [
        "sensory-duo-trio-and-paired-critical-values.csv", "sensory-forced-choice.csv", "sensory-method-guidance.csv", "sensory-ranking-friedman.csv",
        "sensory-serving-orders.csv",
    ];

    /// <summary>The independent source of a row with a numeric tolerance, or null when it tests the implementation alone.</summary>
    public static string? Of(string table, ReferenceRow row)
    {
        if (!row.IsIndependent || !row.HasNumericTolerance || IsByTheFormula(table, row))
        {
            return null;
        }

        var named = Published.FirstOrDefault(one => one.Table == table && row.Source.Contains(one.Words, StringComparison.Ordinal)).Name;
        return named ?? (Counted.Contains(table) ? SecondProgram : null);
    }

    // Constants that were taken over from the same line of a source.
    private static bool IsByTheFormula(string table, ReferenceRow row) => table switch
    {
        "dissociation-constants.csv" => row.Id is "ACI-dissociation-constants-017" or "ACI-dissociation-constants-018" or "ACI-dissociation-constants-019",
        "alcohol_relations.csv" => !row.Quantity.StartsWith("MEASURED", StringComparison.Ordinal),
        "measured-alcohol.csv" => !row.Quantity.StartsWith("MEASURED alcohol", StringComparison.Ordinal),
        "honey_moisture_refractive_index.csv" => !row.Inputs.ContainsKey("nD20"),
        _ => false,
    };
}
