using System.Reflection;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests;

/// <summary>What the pure projects lean on: nothing to their right, and nothing that opens a socket.</summary>
public sealed class ProjectReferencesTests
{
    public static TheoryData<Type, string[]> Projects => new()
    {
        { typeof(SpecificGravity), [] },
        { typeof(BatchAnalysis), ["FermentWatch.Oenology"] },
        { typeof(FermentSimulator), ["FermentWatch.Oenology"] },
    };

    [Theory]
    [MemberData(nameof(Projects))]
    public void PureProject_ReferencesOnlyWhatLiesLeftOfIt(Type member, string[] ours)
    {
        var references = member.Assembly.GetReferencedAssemblies().Select(name => name.Name!).ToList();
        Assert.Equal(ours, references.Where(name => name.StartsWith("FermentWatch", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        Assert.DoesNotContain(references, name => name.StartsWith("System.Net", StringComparison.Ordinal));
        Assert.DoesNotContain(references, name => name.StartsWith("Microsoft", StringComparison.Ordinal));
        Assert.DoesNotContain(references, name => name.StartsWith("System.IO", StringComparison.Ordinal));
    }

    [Fact]
    public void ThisTest_LooksAtThreeDifferentProjects() =>
        Assert.Equal(3, new HashSet<Assembly>([typeof(SpecificGravity).Assembly, typeof(BatchAnalysis).Assembly, typeof(FermentSimulator).Assembly]).Count);
}
