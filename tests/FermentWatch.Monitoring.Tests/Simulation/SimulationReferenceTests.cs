using System.Reflection;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Simulation;

public sealed class SimulationReferenceTests
{
    [Fact]
    public void Simulation_KnowsTheFormulasAndNothingElseOfOurs() =>
        Assert.Equal(["FermentWatch.Oenology"], OursReferencedBy(typeof(FermentSimulator).Assembly));

    [Fact]
    public void Monitoring_NeverReferencesTheSimulation() =>
        Assert.Equal(["FermentWatch.Oenology"], OursReferencedBy(typeof(Reading).Assembly));

    [Fact]
    public void Oenology_ReferencesNothingOfOurs() =>
        Assert.Empty(OursReferencedBy(typeof(SpecificGravity).Assembly));

    private static IEnumerable<string> OursReferencedBy(Assembly assembly) => assembly.GetReferencedAssemblies()
        .Select(name => name.Name!)
        .Where(name => name.StartsWith("FermentWatch", StringComparison.Ordinal))
        .Order();
}
