using FermentWatch.Oenology.Worksheets.Entries;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>Every worksheet, in one explicit list. A new one is one file under Entries and one line here.</summary>
public static class WorksheetCatalog
{
    /// <summary>Every worksheet, by subject in the order of a batch's life.</summary>
    public static IReadOnlyList<Worksheet> All { get; } =
    [
        AlcoholFromGravity.Sheet,
    ];

    /// <summary>The worksheet of this name, or null.</summary>
    public static Worksheet? Find(string name) => All.FirstOrDefault(sheet => string.Equals(sheet.Name, name, StringComparison.Ordinal));
}
