using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;
using Xunit;

namespace FermentWatch.System.Tests.Backtest;

/// <summary>Stretches that the truth labels stuck, from labels every twelve hours.</summary>
public sealed class StuckSpellsTests
{
    [Theory]
    // Stuck to the end of its data.
    [InlineData("a a s s s s", 30.0, null, "30-80")]
    // A cold night stops it, and it works on: short, whatever the hour at which the truth says that it got stuck first.
    [InlineData("a s a a a a", 20.0, null, "20-36")]
    [InlineData("a s a s s s", 20.0, null, "20-36 48-80")]
    // Between two cuts it stood still for an hour or two, and no cut shows it.
    [InlineData("a a a a a a", 20.0, null, "")]
    // Warmed again before the next cut.
    [InlineData("a s s s a f", 20.0, 50.0, "20-50")]
    [InlineData("s s s a a a", null, null, "12-48")]
    public void Stretches_BeginAndEndWhereTheLabelDoes(string labels, double? stuckAt, double? stuckEnd, string expected)
    {
        var cuts = labels.Split(' ').Select((label, i) => new TruthCut(
            i, 12 * (i + 1), 1.02, 1.02, 0, double.PositiveInfinity, EndsStuck: label == "s", RatePerDay: 0, label == "s" ? "stuck" : "active")).ToList();
        var truth = new FermentTruth(
            "x", "Starved", EventTime.From(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero)), new Dictionary<string, double>(), [], [], stuckAt, stuckEnd, null, 80, cuts);

        Assert.Equal(expected, string.Join(' ', truth.StuckSpells().Select(spell => FormattableString.Invariant($"{spell.From:0}-{spell.Until:0}"))));
    }
}
