using System.Globalization;

namespace FermentWatch.Oenology.Tests;

/// <summary>How many rows stand behind each subject, counted from the tables; REFERENCES.md shows the same counts or this fails.</summary>
public sealed class ReferenceCountTests
{
    private const string Begin = "<!-- counts -->";
    private const string End = "<!-- end of counts -->";

    private static readonly (string Subject, string[] Tables)[] Subjects =
    [
        ("gravity, sugar, alcohol",
        [
            "abv_massbalance.csv", "alcohol_relations.csv", "brix_sg.csv", "dry_extract_tabarie.csv", "ethanol_density.csv", "ethanol_density_coefficients.csv",
            "ethanol_density_tables.csv", "hydrometer_temperature.csv", "hydrometer_temperature_wine.csv", "measured-alcohol.csv", "potential_alcohol.csv",
            "refractometer.csv", "sg_plato_polynomials.csv", "sucrose_density.csv", "sucrose_density_coefficients.csv", "sucrose_density_crc20.csv", "water_density.csv",
        ]),
        ("must, sweetening, blending",
        [
            "blending_mass_balance.csv", "composition.csv", "dissolution_volume.csv", "fruit_juice_brix.csv", "honey_moisture_refractive_index.csv",
            "mixing_contraction.csv", "relative_sweetness.csv", "wine_sweetness_categories.csv",
        ]),
        ("sulfite, sorbate", ["additions-and-strength.csv", "free-so2-for-molecular-target.csv", "molecular-fraction.csv", "pka-temperature-ethanol.csv", "sorbate.csv"]),
        ("acids",
        [
            "buffer-capacity.csv", "dissociation-constants.csv", "equivalents.csv", "malolactic-and-deacidification.csv", "measured-changes.csv",
            "ph-solver-cases.csv", "ph-solver-cases-ethanol.csv", "ranges-and-balance.csv",
        ]),
        ("nutrients, heat", ["heat-and-temperature.csv", "mead-nitrogen.csv", "yan-and-dap.csv"]),
        ("carbon dioxide, bottles", ["bottle-pressure.csv", "bottles-and-priming.csv", "exposure.csv", "gas-yield.csv", "solubility.csv"]),
        ("tasting",
        [
            "sensory-duo-trio-and-paired-critical-values.csv", "sensory-forced-choice.csv", "sensory-method-guidance.csv", "sensory-ranking-friedman.csv",
            "sensory-serving-orders.csv", "sensory-thresholds.csv", "sensory-triangle-critical-values.csv",
        ]),
        ("bench trials", ["bench-trials.csv"]),
        ("limits, tannin, stages", ["legal-limits.csv", "process-criteria.csv", "tannin.csv"]),
    ];

    [Fact]
    public void EveryTable_BelongsToOneSubject() => Assert.Equal(
        Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "ReferenceData"), "*.csv").Select(Path.GetFileName).Order(StringComparer.Ordinal),
        Subjects.SelectMany(subject => subject.Tables).Order(StringComparer.Ordinal));

    [Fact]
    public void CountsOfTheBibliography_AreThoseOfTheTables()
    {
        var bibliography = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "REFERENCES.md")).ReplaceLineEndings("\n");
        var counted = string.Join('\n', Lines());
        TestContext.Current.TestOutputHelper?.WriteLine(counted);
        var (from, to) = (bibliography.IndexOf(Begin, StringComparison.Ordinal), bibliography.IndexOf(End, StringComparison.Ordinal));
        var shown = from < 0 || to < from ? string.Empty : bibliography[(from + Begin.Length)..to].Trim();
        Assert.True(counted == shown, $"REFERENCES.md must show between {Begin} and {End}:\n{counted}");
    }

    // No id twice, so that a row is counted once.
    [Fact]
    public void Ids_AreUnique()
    {
        var ids = Subjects.SelectMany(subject => subject.Tables).SelectMany(ReferenceTable.Read).Select(row => row.Id).ToList();
        Assert.Equal(ids.Count, ids.Distinct(StringComparer.Ordinal).Count());
    }

    private static IEnumerable<string> Lines()
    {
        yield return "| subject | rows | numeric tolerance | of these from memory | independent, published | by a second program | without a check | independent sources |";
        yield return "|---|---|---|---|---|---|---|---|";
        var all = Subjects.SelectMany(subject => Rows(subject.Tables)).ToList();
        foreach (var (subject, tables) in Subjects)
        {
            yield return Line(subject, Rows(tables));
        }

        yield return Line("all", all);
    }

    private static List<(string Table, ReferenceRow Row)> Rows(IEnumerable<string> tables) =>
        [.. tables.SelectMany(table => ReferenceTable.Read(table).Select(row => (table, row)))];

    private static string Line(string subject, List<(string Table, ReferenceRow Row)> rows)
    {
        var numeric = rows.Where(one => one.Row.HasNumericTolerance).ToList();
        var sources = numeric.Select(one => IndependentSources.Of(one.Table, one.Row)).OfType<string>().ToList();
        var published = sources.Where(source => source != IndependentSources.SecondProgram).ToList();
        var named = published.GroupBy(source => source).OrderByDescending(group => group.Count()).ThenBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => string.Create(CultureInfo.InvariantCulture, $"{group.Key} {group.Count()}"));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {subject} | {rows.Count} | {numeric.Count} | {numeric.Count(one => one.Row.Status == "from-memory")} | {published.Count} | {sources.Count - published.Count} | {rows.Count(one => RowsWithoutACheck.Reasons.ContainsKey(one.Row.Id))} | {string.Join(", ", named)} |").Replace(" |  |", " | |", StringComparison.Ordinal);
    }
}
