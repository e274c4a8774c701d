using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class ReasonTests
{
    [Fact]
    public void EveryKindOfValue_HasAStoredNameOfItsOwn()
    {
        var kinds = typeof(ReasonValue).GetNestedTypes().Where(type => type.IsSubclassOf(typeof(ReasonValue))).ToHashSet();
        var stored = typeof(ReasonValue).GetCustomAttributes<JsonDerivedTypeAttribute>().ToList();
        Assert.True(kinds.Count >= 8, $"only {kinds.Count} kinds of value were found");
        Assert.True(kinds.SetEquals(stored.Select(one => one.DerivedType)), "a kind of value has no stored name, or a name stands for nothing");
        Assert.Equal(stored.Count, stored.Select(one => one.TypeDiscriminator).Distinct().Count());
    }

    [Fact]
    public void StoredReason_ComesBackEqual()
    {
        var reason = Reason.Of(
            "some-code",
            new ReasonValue.Gravity(1.012),
            new ReasonValue.Degrees(0.5, true),
            new ReasonValue.Moment(new EventTime(1_790_000_000_000_001)),
            new ReasonValue.Length(TimeSpan.FromHours(3)),
            new ReasonValue.Count(7),
            new ReasonValue.Odds(0.95),
            new ReasonValue.Measured(1012, MeasurementUnit.SpecificGravity),
            new ReasonValue.Amount(0.4, "L", 2),
            new ReasonValue.Name("<b>{0}</b>"));
        Assert.Equal(reason, JsonSerializer.Deserialize<Reason>(JsonSerializer.Serialize(reason)));
    }
}
