using FermentWatch.Monitoring.Telemetry;
using MQTTnet;
using Xunit;

namespace FermentWatch.System.Tests.Telemetry;

/// <summary>Our filters against those of the MQTT library that the service speaks with, on random topics of few letters.</summary>
public sealed class TopicFilterAgainstLibraryTests(ITestOutputHelper output)
{
    private static readonly string[] FilterLevels = ["a", "b", "", "+", "+", "#", "$x"];
    private static readonly string[] TopicLevels = ["a", "b", "", "$x"];

    [Fact]
    public void RandomFilters_MatchTheSameTopics()
    {
        var seed = Random.Shared.Next();
        output.WriteLine($"seed {seed}");
        var random = new Random(seed);
        var matches = 0;
        var valid = 0;
        for (var i = 0; i < 20_000; i++)
        {
            var text = Levels(random, FilterLevels);
            var topic = Levels(random, TopicLevels);
            if (topic.Length == 0 || !TopicFilter.TryParse(text, out var filter, out _))
            {
                continue;
            }

            valid++;
            var expected = MqttTopicFilterComparer.Compare(topic, text) == MqttTopicFilterCompareResult.IsMatch;
            Assert.True(expected == filter.Matches(topic), $"seed {seed}: filter '{text}', topic '{topic}': the library says {expected}.");
            matches += expected ? 1 : 0;
        }

        output.WriteLine($"{valid} pairs, {matches} matches");
        Assert.True(matches > 1000, $"Only {matches} matches with seed {seed}.");
        Assert.True(valid - matches > 1000, $"Only {valid - matches} pairs without a match with seed {seed}.");
    }

    private static string Levels(Random random, string[] from) =>
        string.Join('/', Enumerable.Range(0, random.Next(1, 5)).Select(_ => from[random.Next(from.Length)]));
}
