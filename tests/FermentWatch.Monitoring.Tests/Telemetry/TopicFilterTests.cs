using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

/// <summary>Examples are those of MQTT Version 5.0, OASIS Standard, section 4.7, unless said.</summary>
public sealed class TopicFilterTests
{
    [Theory]
    // 4.7.1.2, the multi-level wildcard.
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1", true)]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1/ranking", true)]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon", true)]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player2", false)]
    [InlineData("sport/#", "sport", true)]
    [InlineData("#", "sport/tennis", true)]
    [InlineData("#", "/", true)]
    // 4.7.1.3, the single-level wildcard.
    [InlineData("sport/tennis/+", "sport/tennis/player1", true)]
    [InlineData("sport/tennis/+", "sport/tennis/player2", true)]
    [InlineData("sport/tennis/+", "sport/tennis/player1/ranking", false)]
    [InlineData("sport/+", "sport", false)]
    [InlineData("sport/+", "sport/", true)]
    [InlineData("+/tennis/#", "sport/tennis", true)]
    [InlineData("sport/+/player1", "sport/tennis/player1", true)]
    [InlineData("+/+", "/finance", true)]
    [InlineData("/+", "/finance", true)]
    [InlineData("+", "/finance", false)]
    // 4.7.2, topics that begin with $.
    [InlineData("#", "$SYS/monitor/Clients", false)]
    [InlineData("+/monitor/Clients", "$SYS/monitor/Clients", false)]
    [InlineData("$SYS/#", "$SYS/monitor/Clients", true)]
    [InlineData("$SYS/monitor/+", "$SYS/monitor/Clients", true)]
    // A $ further on is an ordinary character (our reading of [MQTT-4.7.2-1]).
    [InlineData("cellar/+", "cellar/$carboy", true)]
    // 4.7.3, names are compared exactly.
    [InlineData("ACCOUNTS", "Accounts", false)]
    [InlineData("Accounts payable", "Accounts payable", true)]
    [InlineData("/finance", "finance", false)]
    [InlineData("finance/", "finance", false)]
    [InlineData("/", "/", true)]
    // Lengths, and topics that are none.
    [InlineData("a/b/c", "a/b", false)]
    [InlineData("a/b", "a/b/c", false)]
    [InlineData("a/+/c", "a//c", true)]
    [InlineData("#", "", false)]
    [InlineData("#", "a/+", false)]
    [InlineData("#", "a\0b", false)]
    public void Topic_MatchesAsTheStandardSays(string filter, string topic, bool matches)
    {
        Assert.Equal(matches, TopicFilter.Parse(filter).Matches(topic));
        Assert.Equal(matches, TopicFilter.Parse(filter).Captures(topic) is not null);
    }

    [Fact]
    public void EverySmallTopic_MatchesAsABrokerDelivers()
    {
        string[] levels = ["a", "b", "", "$x"];
        var topics = levels
            .Concat(levels.SelectMany(first => levels.Select(second => $"{first}/{second}")))
            .Concat(levels.SelectMany(first => levels.SelectMany(second => levels.Select(third => $"{first}/{second}/{third}"))))
            .Where(topic => topic.Length > 0)
            .ToList();
        var rows = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "telemetry", "filter-matches.tsv"))
            .SkipWhile(line => line.StartsWith("# ", StringComparison.Ordinal))
            .Select(line => line.Split('\t'))
            .ToList();
        Assert.Equal(51, rows.Count);
        Assert.Equal(83, topics.Count);
        foreach (var row in rows)
        {
            var filter = TopicFilter.Parse(row[0]);
            Assert.Equal(row.Skip(1).Order(StringComparer.Ordinal), topics.Where(filter.Matches).Order(StringComparer.Ordinal));
        }
    }

    [Theory]
    [InlineData("#")]
    [InlineData("sport/tennis/#")]
    [InlineData("+")]
    [InlineData("+/tennis/#")]
    [InlineData("sport/+/player1")]
    [InlineData("/")]
    [InlineData(" ")]
    [InlineData("$SYS/#")]
    [InlineData("keller/gärballon 🍯")]
    public void ValidFilter_IsRead(string filter) => Assert.Equal(filter, TopicFilter.Parse(filter).Text);

    [Theory]
    [InlineData("", "at least one character")]
    [InlineData("sport/tennis#", "'#' must stand alone")]
    [InlineData("sport/tennis/#/ranking", "'#' must stand alone")]
    [InlineData("sport+", "'+' must stand alone")]
    [InlineData("+sport/x", "'+' must stand alone")]
    [InlineData("a\0b", "U+0000")]
    [InlineData("$share/cellar/a/#", "shared subscription")]
    public void InvalidFilter_IsRefusedWithTheRule(string filter, string rule)
    {
        var refused = Assert.Throws<FormatException>(() => TopicFilter.Parse(filter));
        Assert.Contains(rule, refused.Message, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void HalfOfASurrogatePair_IsRefused()
    {
        // Section 1.5.4, [MQTT-1.5.4-1].
        Assert.False(TopicFilter.TryParse("a/" + (char)0xD800, out _, out var problem));
        Assert.Contains("well-formed Unicode", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void LengthLimit_CountsBytesOfUtf8()
    {
        Assert.True(TopicFilter.TryParse(new string('a', 65535), out _, out _));
        Assert.False(TopicFilter.TryParse(new string('a', 65536), out _, out _));

        // ä is two bytes.
        Assert.False(TopicFilter.TryParse(new string('ä', 32768), out _, out _));
    }

    [Theory]
    [InlineData("cellar/+/gravity", "cellar/oak/gravity", "oak")]
    [InlineData("+/+", "a/b", "a|b")]
    [InlineData("+/x/#", "a/x/b/c", "a|b/c")]
    [InlineData("a/#", "a", "")]
    [InlineData("a/#", "a/", "")]
    [InlineData("/+", "/", "")]
    public void WildcardLevels_AreCapturedInOrder(string filter, string topic, string captures) =>
        Assert.Equal(captures.Split('|'), TopicFilter.Parse(filter).Captures(topic));

    [Fact]
    public void FiltersOfTheSameText_AreEqual()
    {
        Assert.Equal(TopicFilter.Parse("a/+"), TopicFilter.Parse("a/+"));
        Assert.NotEqual(TopicFilter.Parse("a/+"), TopicFilter.Parse("a/#"));
        Assert.Equal(0, TopicFilter.Parse("a/b").WildcardLevels);
        Assert.Empty(TopicFilter.Parse("a/b").Captures("a/b")!);
    }
}
