using System.Text;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class UnitGuessTests(ITestOutputHelper output)
{
    private static readonly string[] Table = [.. File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "telemetry", "unit-guesses.csv"))
        .Where(line => line.Length > 0 && line[0] != '#')];

    [Fact]
    public void InventedPayloads_RightUnitStandsFirstFor98Percent()
    {
        var misses = Table.Where(line => First(line) is var (expected, found) && expected != found).ToList();
        var share = 1 - ((double)misses.Count / Table.Length);
        output.WriteLine($"{Table.Length} payloads, right unit first: {share:P1}");
        Assert.True(Table.Length >= 200, $"only {Table.Length} payloads");
        Assert.True(share >= 0.98, $"{share:P1} of {Table.Length}: {string.Join("\n", misses.Select(line => line + " -> " + First(line).Found))}");
    }

    // The four that look alike; ranges are common practice, no source.
    [Theory]
    [InlineData(1.012, "", MeasurementUnit.SpecificGravity)]
    [InlineData(1012, "", MeasurementUnit.KilogramsPerCubicMeter)]
    [InlineData(12, "sugar", MeasurementUnit.DegreesBrix)]
    [InlineData(68, "", MeasurementUnit.DegreesFahrenheit)]
    public void NumbersThatLookAlike_AreToldApart(double value, string name, MeasurementUnit expected) =>
        Assert.Equal(expected, UnitGuess.For(value, name, [])[0].Unit);

    [Fact]
    public void EarlierNumbersOutsideAUnit_RuleItOut() =>
        Assert.DoesNotContain(UnitGuess.For(20, "temp", [68, 75]), guess => guess.Unit == MeasurementUnit.DegreesCelsius);

    [Fact]
    public void NumberThatIsNoNumber_GuessesNothing() => Assert.Empty(UnitGuess.For(double.NaN, "temp", []));

    private static (string Expected, string Found) First(string line)
    {
        var cells = line.Split('|', 3);
        var value = PayloadNumbers.In(Encoding.UTF8.GetBytes(cells[2])).Single(found => (found.Source?.Text ?? "") == cells[1]);
        var guesses = UnitGuess.For(value.Number!.Value, value.Name, []);
        return (cells[0], guesses.Count > 0 && !guesses[0].IsNothingToKeep ? guesses[0].Unit.ToString() : "None");
    }
}
