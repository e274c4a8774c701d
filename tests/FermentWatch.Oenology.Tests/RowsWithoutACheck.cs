namespace FermentWatch.Oenology.Tests;

/// <summary>Rows of the tables that no test can hold the product against, each with its reason. A test that reads one takes it off this list.</summary>
internal static class RowsWithoutACheck
{
    private static readonly (string Reason, string[] Ids)[] Groups =
    [
        (
            "a gap: it says that nothing was found or read",
            ["measured_alcohol-047", "SEN-forced-choice-058"]),
        (
            "about the way in which a source measured; the product has no such number",
            ["SEN-forced-choice-056", "SEN-thresholds-058", "SEN-thresholds-067", "BEN-worked-examples-024"]),
        (
            "micrograms of a fault or of an aroma: no kitchen scale can spike it, so no kit offers it",
            [
                "SEN-thresholds-041", "SEN-thresholds-043", "SEN-thresholds-045", "SEN-thresholds-046", "SEN-thresholds-047", "SEN-thresholds-049", "SEN-thresholds-050",
                "SEN-thresholds-051", "SEN-thresholds-054", "SEN-thresholds-055", "SEN-thresholds-057", "SEN-thresholds-085",
            ]),
        (
            "something that the palate kit does not spike: alcohol, glycerol, grape tannins, salt, mixed solutions of a panel's training",
            [
                "SEN-thresholds-025", "SEN-thresholds-026", "SEN-thresholds-027", "SEN-thresholds-059", "SEN-thresholds-062", "SEN-thresholds-071", "SEN-thresholds-075",
                "SEN-thresholds-076", "SEN-thresholds-081", "SEN-thresholds-083", "SEN-thresholds-084", "SEN-thresholds-086",
            ]),
        (
            "a teaching chart without origin, against a published figure of the same thing that is checked",
            ["SEN-thresholds-042"]),
        (
            "for a tasting room: glass and temperature are the maker's own",
            ["SEN-method-guidance-004", "SEN-method-guidance-007"]),
        (
            "bentonite and other finings: the product holds a dose against its limit and plans no trial of them",
            ["BEN-worked-examples-006", "BEN-worked-examples-007", "BEN-worked-examples-010", "BEN-worked-examples-011"]),
        (
            "a title of a test method, or a count of injuries beside the one that is checked",
            ["CAR-bottles-and-priming-026", "CAR-bottles-and-priming-032"]),
        (
            "nothing that a home maker can measure or that the product doses: hydroxymethylfurfural, methanol, volatile acidity by bacteria, a double salt",
            ["composition-014", "LIM-legal-limits-026", "ACI-measured-changes-014", "ACI-measured-changes-020"]),
        (
            "tax and classes of trade; home wine is said not to be for sale",
            ["LIM-legal-limits-029", "LIM-legal-limits-030", "LIM-legal-limits-034", "LIM-legal-limits-035"]),
        (
            "time, temperature and rate of a running ferment, which the monitoring judges by the batch's own band and readings",
            [
                "NUT-heat-and-temperature-010", "NUT-mead-nitrogen-007", "LIM-process-criteria-006", "LIM-process-criteria-007", "LIM-process-criteria-009",
                "LIM-process-criteria-012",
            ]),
    ];

    /// <summary>The reason of each row, by its id.</summary>
    public static IReadOnlyDictionary<string, string> Reasons { get; } =
        Groups.SelectMany(group => group.Ids.Select(id => (id, group.Reason))).ToDictionary(one => one.id, one => one.Reason, StringComparer.Ordinal);
}
