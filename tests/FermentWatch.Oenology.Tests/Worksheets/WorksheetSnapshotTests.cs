using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>
/// Every sheet as it is: its words, its ranges, and what it answers around its examples. These are snapshots made by our own code, not
/// checks against nature: they only say that something changed. The checks against sources stand beside the formulas and in the examples.
/// </summary>
/// <remarks>After a change that is meant, FERMENTWATCH_WRITE_SNAPSHOTS names the folder into which the snapshots are written anew; read the difference.</remarks>
public sealed class WorksheetSnapshotTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Snapshots");

    public static TheoryData<string> Names => [.. WorksheetCatalog.All.Select(sheet => sheet.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Sheet_IsAsItWas(string name)
    {
        var sheet = WorksheetCatalog.Find(name)!;
        var now = SheetSnapshot.Of(sheet);
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_WRITE_SNAPSHOTS") is { Length: > 0 } target)
        {
            File.WriteAllText(Path.Combine(target, name + ".txt"), now);
        }

        var file = Path.Combine(Folder, name + ".txt");
        Assert.True(File.Exists(file), $"There is no snapshot of {name} yet.");
        Assert.Equal(File.ReadAllText(file), now, ignoreLineEndingDifferences: true);
    }

    [Fact]
    public void Snapshots_AreOfSheetsThatExist() =>
        Assert.Equal(
            WorksheetCatalog.All.Select(sheet => sheet.Name).Order(StringComparer.Ordinal),
            Directory.GetFiles(Folder, "*.txt").Select(Path.GetFileNameWithoutExtension).Order(StringComparer.Ordinal));
}
