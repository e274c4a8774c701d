namespace FermentWatch.Oenology.Tests;

/// <summary>A snapshot of data under <c>Snapshots/Data</c>.</summary>
internal static class DataSnapshot
{
    /// <summary>Compares with the snapshot; writes it anew where FERMENTWATCH_WRITE_SNAPSHOTS names the folder.</summary>
    public static void IsAsItWas(string name, string now)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_WRITE_SNAPSHOTS") is { Length: > 0 } target)
        {
            Directory.CreateDirectory(Path.Combine(target, "Data"));
            File.WriteAllText(Path.Combine(target, "Data", name + ".txt"), now);
        }

        var file = Path.Combine(AppContext.BaseDirectory, "Snapshots", "Data", name + ".txt");
        Assert.True(File.Exists(file), $"There is no snapshot of {name} yet.");
        Assert.Equal(File.ReadAllText(file), now, ignoreLineEndingDifferences: true);
    }
}
