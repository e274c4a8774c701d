namespace FermentWatch.Oenology.Tests;

/// <summary>Runs after every other test, for it asks what they have read.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class AfterAllOthers
{
    public const string Name = "after all others";
}

/// <summary>Every row of the tables is read by some test or stands among <see cref="RowsWithoutACheck"/> with its reason.</summary>
[Collection(AfterAllOthers.Name)]
public sealed class ReferenceUseTests
{
    // A run of chosen tests reads the rows of those alone; then only the list itself is held.
    private static readonly bool IsWholeRun = !Environment.GetCommandLineArgs().Any(argument => argument.StartsWith("--filter", StringComparison.Ordinal));

    [Fact]
    public void EveryRow_IsReadOrNamedWithAReason()
    {
        var rows = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "ReferenceData"), "*.csv")
            .SelectMany(file => ReferenceTable.Read(Path.GetFileName(file)))
            .Select(row => row.Id)
            .ToList();
        Assert.Empty(RowsWithoutACheck.Reasons.Keys.Except(rows, StringComparer.Ordinal));
        Assert.DoesNotContain(RowsWithoutACheck.Reasons.Keys, ReferenceUse.IsRead);
        if (IsWholeRun)
        {
            Assert.Empty(rows.Where(id => !ReferenceUse.IsRead(id) && !RowsWithoutACheck.Reasons.ContainsKey(id)).Order(StringComparer.Ordinal));
        }
    }
}
