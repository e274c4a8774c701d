using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Simulation;
using FermentWatch.Simulation.Demo;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Simulation;

public sealed partial class DemoCellarTests
{
    private static readonly DateTimeOffset Now = new(2026, 10, 6, 18, 0, 0, TimeSpan.Zero);

    public static TheoryData<string> Keys => [.. DemoCellar.Vessels.Select(vessel => vessel.BatchKey)];

    [Theory]
    [MemberData(nameof(Keys))]
    public void SamplesOfEveryVessel_RunInOrderFromInoculationToFortyDaysAfterNow(string key)
    {
        var vessel = Vessel(key);
        Assert.InRange(vessel.Samples[0].HoursFromNow, -vessel.AgeAtNowHours, -vessel.AgeAtNowHours + 1);
        Assert.True(vessel.Samples[^1].HoursFromNow >= 40 * 24);
        Assert.All(
            vessel.Samples.Zip(vessel.Samples.Skip(1)),
            pair => Assert.True(pair.Second.HoursFromNow > pair.First.HoursFromNow));
        Assert.True(vessel.AgeAtNowHours + (DemoCellar.DaysAfterNow * 24) <= SimulatedFerment.TruthHours);
    }

    // The decoder is the one that the service runs: what the demo publishes must come back as the sample it was made of.
    [Theory]
    [MemberData(nameof(Keys))]
    public void EveryMessage_IsUnderstoodAsTheSampleItWasMadeOf(string key)
    {
        var vessel = Vessel(key);
        var mappings = Mappings(vessel);
        foreach (var sample in vessel.Samples.Where((_, i) => i % 97 == 0))
        {
            var messages = vessel.Render(sample, Now);
            Assert.Equal(mappings.Count, messages.Count);
            var values = new Dictionary<QuantityKind, double>();
            foreach (var (message, mapping) in messages.Zip(mappings))
            {
                Assert.True(mapping.Filter.Matches(message.Topic), message.Topic);
                var decoded = PayloadDecoder.Decode(message.Topic, message.Payload.Span, mapping);
                Assert.Equal(DecodeOutcome.Accepted, decoded.Outcome);
                Assert.All(decoded.Accepted, field => values.Add(field.Quantity, field.Value));
                if (vessel.Publishing.TimeJsonPlace is not null)
                {
                    var taken = decoded.DeviceTime!.Value.ToDateTimeOffset();
                    Assert.InRange((Now.AddHours(sample.HoursFromNow) - taken).TotalSeconds, 0, 1);
                }
            }

            Assert.Equal(sample.SpecificGravity, values[QuantityKind.Gravity], 0.0001);
            Assert.Equal(sample.Celsius, values[QuantityKind.Temperature], 0.06);
        }
    }

    [Fact]
    public void Vessels_HaveKeysNamesAndBandsOfTheirOwn()
    {
        Assert.Equal(4, DemoCellar.Vessels.Count);
        Assert.Equal(4, DemoCellar.Vessels.Select(vessel => vessel.BatchKey).Distinct().Count());
        Assert.Equal(4, DemoCellar.Vessels.Select(vessel => vessel.SensorName).Distinct().Count());
        Assert.Equal(5, DemoCellar.Vessels.SelectMany(vessel => vessel.Publishing.Fields).Select(field => field.Topic).Distinct().Count());
        Assert.All(DemoCellar.Vessels, vessel =>
        {
            Assert.Matches(KeyPattern(), vessel.BatchKey);
            Assert.Matches(KeyPattern(), vessel.SensorName);
            Assert.True(vessel.BandLow < vessel.BandHigh);
            Assert.Equal(vessel.Ferment.Truth[0].Gravity.Value, vessel.OriginalGravity.Value, 0.0006);
        });
    }

    [Fact]
    public void Journals_TellWhatWasDoneToTheFerment() => Assert.All(DemoCellar.Vessels, vessel =>
    {
        Assert.Equal(DemoJournalKind.Inoculated, vessel.Journal[0].Kind);
        Assert.Equal(0, vessel.Journal[0].HoursSinceInoculation);
        Assert.Equal(
            vessel.Ferment.Scenario.Interventions.Select(act => (act.HoursSinceInoculation, act.Kind.ToString())),
            vessel.Journal.Skip(1).Select(line => (line.HoursSinceInoculation, line.Kind.ToString())));
    });

    [Fact]
    public void Vessels_StandAtFourStagesOfTheirFerment()
    {
        Assert.InRange(ShareConsumed(Vessel("damson-wine")), 0, 0.01);
        Assert.InRange(ShareConsumed(Vessel("quince-mead")), 0.25, 0.5);
        Assert.InRange(ShareConsumed(Vessel("heather-dry")), 0.5, 0.8);
        Assert.InRange(ShareConsumed(Vessel("back-fence-white")), 0.9, 0.98);
        Assert.All(DemoCellar.Vessels, vessel =>
        {
            Assert.Equal(FermentOutcome.Complete, vessel.Ferment.Outcome);
            Assert.InRange(vessel.Ferment.FinishHours - vessel.AgeAtNowHours, 48, 40 * 24);
        });
    }

    [Fact]
    public void DamsonWine_BecomesActiveWithinTheFirstDayAfterNow()
    {
        var vessel = Vessel("damson-wine");
        double Lost(double hoursFromNow) =>
            vessel.OriginalGravity.Value - vessel.Ferment.TruthAt(vessel.AgeAtNowHours + hoursFromNow).Gravity.Value;
        Assert.InRange(Lost(0), -0.001, 0.0015);
        Assert.InRange(Lost(24), 0.006, 0.03);
    }

    [Fact]
    public void HeatherDry_LeavesItsBandWithinHoursAfterNowAndTheOthersStayIn()
    {
        var heather = Vessel("heather-dry");
        double Peak(DemoVessel vessel, double from, double to) => vessel.Samples
            .Where(sample => sample.HoursFromNow >= from && sample.HoursFromNow <= to).Max(sample => sample.Celsius);

        Assert.InRange(Peak(heather, -heather.AgeAtNowHours, 0), 18, heather.BandHigh.Celsius - 0.5);
        Assert.True(Peak(heather, 0, 6) > heather.BandHigh.Celsius + 1);
        Assert.All(
            heather.Samples.Where(sample => sample.HoursFromNow is > 6 and < 40),
            sample => Assert.True(sample.Celsius > heather.BandHigh.Celsius));
        Assert.All(
            DemoCellar.Vessels.Where(vessel => vessel != heather),
            vessel => Assert.True(Peak(vessel, -vessel.AgeAtNowHours, 48) <= vessel.BandHigh.Celsius, vessel.BatchName));
    }

    private static DemoVessel Vessel(string key) => DemoCellar.Vessels.Single(vessel => vessel.BatchKey == key);

    private static double ShareConsumed(DemoVessel vessel) =>
        vessel.Ferment.MassesAt(vessel.AgeAtNowHours).Ethanol / vessel.Ferment.MassesAt(SimulatedFerment.TruthHours).Ethanol;

    private static List<TopicMapping> Mappings(DemoVessel vessel) =>
    [
        .. vessel.Publishing.Fields.GroupBy(field => field.Topic).Select(group => new TopicMapping(
            vessel.SensorName,
            TopicFilter.Parse(group.Key),
            ValueList.Of<FieldMapping>([.. group.Select(Field)]),
            vessel.Publishing.TimeJsonPlace is { } place ? new(JsonPointer.Parse(place), TimeFormat.Iso8601) : null)),
    ];

    private static FieldMapping Field(DemoField field)
    {
        var unit = Enum.Parse<MeasurementUnit>(field.Unit.ToString());
        return new(field.JsonPlace is { } place ? JsonPointer.Parse(place) : null, UnitConversion.QuantityOf(unit), unit);
    }

    [GeneratedRegex("^[a-z0-9-]{1,40}$")]
    private static partial Regex KeyPattern();
}
