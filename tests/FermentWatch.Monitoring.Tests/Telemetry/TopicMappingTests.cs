using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class TopicMappingTests
{
    private static readonly FieldMapping Gravity = new(null, QuantityKind.Gravity, MeasurementUnit.SpecificGravity);

    [Theory]
    [InlineData("carboy {1}", "cellar/+/gravity", "cellar/oak/gravity", "carboy oak")]
    [InlineData("{2} in {1}", "+/+/gravity", "attic/oak/gravity", "oak in attic")]
    [InlineData("{1}", "cellar/#", "cellar/oak/gravity", "oak/gravity")]
    [InlineData("{1}{1}", "cellar/+", "cellar/ab", "abab")]
    [InlineData("a}b", "cellar/+", "cellar/ab", "a}b")]
    [InlineData("float", "cellar/+", "cellar/ab", "float")]
    [InlineData("{1}", "cellar/#", "cellar", null)]
    [InlineData("{1}", "cellar/+", "attic/ab", null)]
    public void WildcardLevels_FillTheSensorName(string template, string filter, string topic, string? sensor)
    {
        var mapping = new TopicMapping(template, TopicFilter.Parse(filter), ValueList.Of<FieldMapping>(Gravity), null);
        Assert.Equal(sensor, mapping.SensorOf(topic)?.Value);
    }

    [Theory]
    [InlineData("", "a/+", "1 to 80 characters")]
    [InlineData(" ", "a/+", "not blank")]
    [InlineData("a\nb", "a/+", "control character")]
    [InlineData("{1}", "a/b", "no wildcard level")]
    [InlineData("{2}", "a/+", "from {1} to {1}")]
    [InlineData("{0}", "a/+", "from {1} to {1}")]
    [InlineData("{x}", "a/+", "from {1} to {1}")]
    [InlineData("{1", "a/+", "from {1} to {1}")]
    public void UnusableSensorName_IsRefused(string template, string filter, string saying)
    {
        var refused = Assert.Throws<FormatException>(() =>
            new TopicMapping(template, TopicFilter.Parse(filter), ValueList.Of<FieldMapping>(Gravity), null));
        Assert.Contains(saying, refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("float", "float", true)]
    [InlineData("float", "floats", false)]
    [InlineData("carboy {1}", "carboy oak", true)]
    [InlineData("carboy {1}", "demijohn oak", false)]
    [InlineData("{1} in {2}!", "oak in attic!", true)]
    [InlineData("{1} in {2}!", "oak at attic!", false)]
    [InlineData("{1} in {2}!", "oak in attic", false)]
    [InlineData("{1}a{2}a", "aa", true)]
    [InlineData("{1}a{2}a", "a", false)]
    [InlineData("a{1}a", "a", false)]
    public void Template_KnowsWhichNamesItCanGive(string template, string name, bool can) =>
        Assert.Equal(can, SensorTemplate.Parse(template, 2).CanName(new SensorId(name)));

    [Fact]
    public void FieldsThatCollide_AreRefused()
    {
        var filter = TopicFilter.Parse("a");
        Assert.Throws<ArgumentException>(() => new TopicMapping("float", filter, ValueList.Of<FieldMapping>(), null));
        Assert.Throws<ArgumentException>(() => new TopicMapping("float", filter, ValueList.Of<FieldMapping>(Gravity, Gravity), null));
        Assert.Throws<ArgumentException>(() => new FieldMapping(null, QuantityKind.Gravity, MeasurementUnit.DegreesCelsius));
    }

    [Fact]
    public void MappingsOfTheSameParts_AreEqual()
    {
        TopicMapping Build() => new("carboy {1}", TopicFilter.Parse("a/+"), ValueList.Of<FieldMapping>(Gravity), new TimeMapping(JsonPointer.Parse("/at"), TimeFormat.UnixSeconds));
        Assert.Equal(Build(), Build());
    }
}
