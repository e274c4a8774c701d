using System.Globalization;
using System.Text;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class PayloadDecoderTests
{
    private static readonly TopicMapping Plain = new(
        "carboy {1}",
        TopicFilter.Parse("cellar/+/gravity"),
        ValueList.Of<FieldMapping>(new FieldMapping(null, QuantityKind.Gravity, MeasurementUnit.SpecificGravity)),
        null);

    private static readonly TopicMapping Json = new(
        "float",
        TopicFilter.Parse("float/state"),
        ValueList.Of<FieldMapping>(
            new FieldMapping(JsonPointer.Parse("/sg"), QuantityKind.Gravity, MeasurementUnit.SpecificGravity),
            new FieldMapping(JsonPointer.Parse("/t/0"), QuantityKind.Temperature, MeasurementUnit.DegreesFahrenheit)),
        new TimeMapping(JsonPointer.Parse("/at"), TimeFormat.Iso8601));

    [Theory]
    [InlineData("1.012", 1.012)]
    [InlineData(" \t1.012\r\n", 1.012)]
    [InlineData("+1.012", 1.012)]
    [InlineData("1012e-3", 1.012)]
    [InlineData("1.012E0", 1.012)]
    [InlineData("01.012", 1.012)]
    [InlineData("1.", 1)]
    [InlineData(".95", 0.95)]
    [InlineData("\uFEFF1.012", 1.012)]
    [InlineData("0.9", 0.9)]
    [InlineData("1.3", 1.3)]
    [InlineData("1.0120000000000000000000000000000000000000000000000000000000000", 1.012)]
    public void PlainNumber_IsTaken(string payload, double gravity)
    {
        var message = PayloadDecoder.Decode("cellar/oak/gravity", Encoding.UTF8.GetBytes(payload), Plain);
        Assert.Equal(DecodeOutcome.Accepted, message.Outcome);
        Assert.Equal(new SensorId("carboy oak"), message.Sensor);
        Assert.Equal(new AcceptedField(QuantityKind.Gravity, MeasurementUnit.SpecificGravity, gravity, gravity), Assert.Single(message.Accepted));
        Assert.Null(message.DeviceTime);
        Assert.Null(message.TimeRejected);
    }

    [Theory]
    [InlineData("", DecodeReasons.PayloadEmpty)]
    [InlineData("\uFEFF", DecodeReasons.PayloadEmpty)]
    [InlineData(" \n", DecodeReasons.NumberIsBlank)]
    [InlineData("1,012", DecodeReasons.NumberHasComma)]
    [InlineData("-1,5e2", DecodeReasons.NumberHasComma)]
    [InlineData("1,012.5", DecodeReasons.NumberNotPlain)]
    [InlineData("1.012.3", DecodeReasons.NumberNotPlain)]
    [InlineData("NaN", DecodeReasons.NumberNotFinite)]
    [InlineData("-nan", DecodeReasons.NumberNotFinite)]
    [InlineData("inf", DecodeReasons.NumberNotFinite)]
    [InlineData("-Infinity", DecodeReasons.NumberNotFinite)]
    [InlineData("1e999", DecodeReasons.NumberNotFinite)]
    [InlineData("1e308", DecodeReasons.ValueImplausible)]
    [InlineData("null", DecodeReasons.NumberNotPlain)]
    [InlineData("true", DecodeReasons.NumberNotPlain)]
    [InlineData("1.012 SG", DecodeReasons.NumberNotPlain)]
    [InlineData("\"1.012\"", DecodeReasons.NumberNotPlain)]
    [InlineData("0x1p0", DecodeReasons.NumberNotPlain)]
    [InlineData("1e", DecodeReasons.NumberNotPlain)]
    [InlineData(".", DecodeReasons.NumberNotPlain)]
    [InlineData("−1.0", DecodeReasons.NumberNotPlain)]
    [InlineData("١", DecodeReasons.NumberNotPlain)]
    [InlineData("1.012\0", DecodeReasons.NumberNotPlain)]
    [InlineData("{\"sg\":1.012}", DecodeReasons.PayloadIsJson)]
    [InlineData("[1.012]", DecodeReasons.PayloadIsJson)]
    [InlineData("0.8999", DecodeReasons.ValueFitsThreeUnits)]
    [InlineData("-200", DecodeReasons.ValueImplausible)]
    [InlineData("-1", DecodeReasons.ValueFitsThreeUnits)]
    [InlineData("12", DecodeReasons.ValueFitsThreeUnits)]
    [InlineData("90", DecodeReasons.ValueFitsOtherUnit)]
    [InlineData("1012", DecodeReasons.ValueFitsOtherUnit)]
    [InlineData("1.0120000000000000000000000000000000000000000000000000000000000000000", DecodeReasons.NumberTooLong)]
    public void AnythingElse_IsRejectedWithItsReason(string payload, string code)
    {
        var message = PayloadDecoder.Decode("cellar/oak/gravity", Encoding.UTF8.GetBytes(payload), Plain);
        Assert.Equal(DecodeOutcome.Rejected, message.Outcome);
        Assert.Equal(code, Assert.Single(message.Rejected).Why.Code);
    }

    [Fact]
    public void DecimalComma_SaysWhatWouldBeRead()
    {
        var message = PayloadDecoder.Decode("cellar/oak/gravity", "1,012"u8, Plain);
        Assert.Equal(
            Reason.Of(DecodeReasons.NumberHasComma, new ReasonValue.Name("1,012"), new ReasonValue.Name("1.012")),
            Assert.Single(message.Rejected).Why);
    }

    [Fact]
    public void WrongUnit_SaysRangeAndTheUnitThatFits()
    {
        var message = PayloadDecoder.Decode("cellar/oak/gravity", "1012"u8, Plain);
        Assert.Equal(
            Reason.Of(
                DecodeReasons.ValueFitsOtherUnit,
                new ReasonValue.Measured(1012, MeasurementUnit.SpecificGravity),
                new ReasonValue.Measured(0.9, MeasurementUnit.SpecificGravity),
                new ReasonValue.Measured(1.3, MeasurementUnit.SpecificGravity),
                new ReasonValue.Measured(1012, MeasurementUnit.KilogramsPerCubicMeter)),
            Assert.Single(message.Rejected).Why);
    }

    [Theory]
    [InlineData("""{"sg":1.05,"t":[68],"at":"2026-03-14T09:26:53Z"}""", "1.05", "20", "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":"1.05","t":[" 68 "],"at":"2026-03-14T10:26:53.5+01:00"}""", "1.05", "20", "2026-03-14T09:26:53.5Z")]
    [InlineData("""{"sg":NaN,"t":[68],"at":"2026-03-14T09:26:53Z"}""", DecodeReasons.NumberNotFinite, "20", "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":-inf,"t":[68],"at":"2026-03-14T09:26:53Z"}""", DecodeReasons.NumberNotFinite, "20", "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":null,"t":[68],"at":"yesterday"}""", DecodeReasons.NumberIsNull, "20", DecodeReasons.TimeUnreadable)]
    [InlineData("""{"sg":true,"t":[68],"at":"2026-03-14T09:26:53"}""", DecodeReasons.NumberIsBoolean, "20", DecodeReasons.TimeWithoutOffset)]
    [InlineData("""{"sg":{},"t":[68],"at":0}""", DecodeReasons.NumberIsStructure, "20", DecodeReasons.TimeUnreadable)]
    [InlineData("""{"sg":"1,05","t":[68]}""", DecodeReasons.NumberHasComma, "20", DecodeReasons.FieldMissing)]
    [InlineData("""{"sg":"","t":[68]}""", DecodeReasons.NumberIsBlank, "20", DecodeReasons.FieldMissing)]
    [InlineData("""{"sg":"\ud800","t":[68],"at":"\udc00"}""", DecodeReasons.NumberNotPlain, "20", DecodeReasons.TimeUnreadable)]
    [InlineData("""{"\ud800":1,"sg":1.05,"t":[68],"at":"2026-03-14T09:26:53Z"}""", "1.05", "20", "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":1.05,"sg":1.04,"t":[68],"at":"2026-03-14T09:26:53Z"}""", DecodeReasons.FieldAmbiguous, "20", "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":1.05,"t":[293.15],"at":"2026-03-14T09:26:53Z"}""", "1.05", DecodeReasons.ValueFitsOtherUnit, "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":1.05,"t":[],"at":"2026-03-14T09:26:53Z"}""", "1.05", DecodeReasons.FieldMissing, "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":1e999,"t":[1e308],"at":"2026-03-14T09:26:53Z"}""", DecodeReasons.NumberNotFinite, DecodeReasons.ValueImplausible, "2026-03-14T09:26:53Z")]
    [InlineData("""{"sg":1.05""", DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson)]
    [InlineData("""{"sg":1,05,"t":[68]}""", DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson)]
    [InlineData("""{"sg":1.05} {}""", DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson, DecodeReasons.PayloadNotJson)]
    [InlineData("1.05", DecodeReasons.FieldMissing, DecodeReasons.FieldMissing, DecodeReasons.FieldMissing)]
    public void JsonMessage_KeepsEveryGoodField(string payload, string gravity, string temperature, string time)
    {
        var message = PayloadDecoder.Decode("float/state", Encoding.UTF8.GetBytes(payload), Json);
        Assert.Equal(gravity, Shown(message, QuantityKind.Gravity));
        Assert.Equal(temperature, Shown(message, QuantityKind.Temperature));
        Assert.Equal(time, message.DeviceTime?.ToString() ?? message.TimeRejected?.Code);
        Assert.Equal(2, message.Accepted.Count + message.Rejected.Count);
    }

    [Fact]
    public void BadJson_NamesLineAndByte()
    {
        var message = PayloadDecoder.Decode("float/state", "{\n \"sg\": oops}"u8, Json);
        Assert.Equal(
            Reason.Of(DecodeReasons.PayloadNotJson, new ReasonValue.Count(2), new ReasonValue.Count(8)),
            message.Rejected[0].Why);
    }

    [Theory]
    [InlineData(64, DecodeReasons.FieldMissing)]
    [InlineData(65, DecodeReasons.PayloadTooDeep)]
    [InlineData(4000, DecodeReasons.PayloadTooDeep)]
    [InlineData(10000, DecodeReasons.PayloadTooLong)]
    public void DeepJson_IsRejected(int levels, string code)
    {
        var payload = string.Concat(Enumerable.Repeat("[", levels).Concat(Enumerable.Repeat("]", levels)));
        Assert.Equal(code, PayloadDecoder.Decode("float/state", Encoding.UTF8.GetBytes(payload), Json).Rejected[0].Why.Code);
    }

    [Fact]
    public void FiveMegabyteNumber_IsRejectedBySize()
    {
        var payload = Enumerable.Repeat((byte)'1', 5_000_000).ToArray();
        Assert.Equal(
            Reason.Of(DecodeReasons.PayloadTooLong, new ReasonValue.Count(5_000_000), new ReasonValue.Count(8192)),
            PayloadDecoder.Decode("cellar/oak/gravity", payload, Plain).Rejected[0].Why);
    }

    [Fact]
    public void BytesThatAreNoText_AreRejected()
    {
        foreach (byte[] payload in new byte[][] { [0xFF, 0xFE, 0x31, 0x00], [0xC3, 0x28], [0xED, 0xA0, 0x80], [(byte)'1', 0x80] })
        {
            Assert.Equal(DecodeReasons.PayloadNotText, PayloadDecoder.Decode("cellar/oak/gravity", payload, Plain).Rejected[0].Why.Code);
        }
    }

    [Theory]
    [InlineData("cellar/oak/temperature", DecodeReasons.TopicNotMapped)]
    [InlineData("cellar/a\rb/gravity", DecodeReasons.SensorNameUnusable)]
    public void TopicWithoutSensor_TakesNothing(string topic, string code)
    {
        var message = PayloadDecoder.Decode(topic, "1.012"u8, Plain);
        Assert.Null(message.Sensor);
        Assert.Equal(code, Assert.Single(message.Rejected).Why.Code);
    }

    [Fact]
    public void NameThatGrowsTooLong_TakesNothing()
    {
        var message = PayloadDecoder.Decode($"cellar/{new string('x', 80)}/gravity", "1.012"u8, Plain);
        Assert.Equal(DecodeReasons.SensorNameUnusable, Assert.Single(message.Rejected).Why.Code);
    }

    [Fact]
    public void QuotedText_IsShortAndOnOneLine()
    {
        var message = PayloadDecoder.Decode("cellar/oak/gravity", Encoding.UTF8.GetBytes($"a\r\nb{new string('x', 50)}"), Plain);
        var quoted = Assert.IsType<ReasonValue.Name>(message.Rejected[0].Why.Values[0]).Text;
        Assert.Equal(DecodeReasons.NumberNotPlain, message.Rejected[0].Why.Code);
        Assert.True(quoted.Length <= 41);
        Assert.DoesNotContain(quoted, char.IsControl);
    }

    private static string Shown(DecodedMessage message, QuantityKind quantity) =>
        message.Accepted.FirstOrDefault(field => field.Quantity == quantity) is { } taken
            ? Math.Round(taken.Value, 9).ToString(CultureInfo.InvariantCulture)
            : message.Rejected.Single(field => field.Quantity == quantity).Why.Code;
}
