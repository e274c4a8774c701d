using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>Every gate on three to six hand readings alone.</summary>
public sealed class GateScenarioTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Gates", "Scenarios");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Folder, "*.txt").Select(file => Path.GetFileNameWithoutExtension(file)).Order()];

    [Theory]
    [MemberData(nameof(Files))]
    public void EachStory_HoldsWithThreeToSixHandReadings(string file)
    {
        var scenario = Read(file);
        Assert.InRange(scenario.HandReadings, 3, 6);
        Assert.True(scenario.HasOpen, "no gate opens in it");
        var faults = scenario.Faults();
        Assert.True(faults.Count == 0, string.Join("\n", faults));
    }

    [Fact]
    public void EachGate_HasAStoryOfItsOwn()
    {
        string[] gates =
        [
            "rack", "stabilize", "sweeten", "bottle:dry-and-flat", "bottle:sulfite-and-sorbate", "bottle:pasteurized-or-filtered", "bottle:kept-cold", "bottle:bottle-conditioned", "sentinel",
        ];
        var told = Files.Select(row => Read(row.Data)).SelectMany(scenario => scenario.Gates).ToHashSet(StringComparer.Ordinal);
        Assert.Equal(gates.Order(), told.Order());
    }

    [Theory]
    [InlineData("journal 1 racked volume=0")]
    [InlineData("journal 1 racked depth=3")]
    [InlineData("journal 1 drunk")]
    [InlineData("gate 1 rack open")]
    public void LineThatCannotBe_IsRefused(string line) => Assert.Throws<FormatException>(() => GateScenario.Parse(line));

    [Fact]
    public void LineThatDoesNotHold_IsAFault() =>
        Assert.Equal(2, GateScenario.Parse("expect 3 rack open\nexpect 3 stabilize final-gravity met\nexpect 3 rack not-yet").Faults().Count);

    private static GateScenario Read(string file) => GateScenario.Parse(File.ReadAllText(Path.Combine(Folder, file + ".txt")));
}
