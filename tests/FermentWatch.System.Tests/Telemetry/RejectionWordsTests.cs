using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using Xunit;
using StoredRejection = FermentWatch.Infrastructure.Storage.RejectedField;

namespace FermentWatch.System.Tests.Telemetry;

/// <summary>From a payload that cannot be taken to the words on the page, through the form in which the reason is stored.</summary>
public sealed class RejectionWordsTests
{
    [Fact]
    public void EveryReason_HasItsWords() => Assert.All(DecodeReasons.All, code => Assert.True(ReasonWords.Knows(code), code));

    [Theory]
    [InlineData("1,012", "'1,012' has a decimal comma: a decimal point is expected, as in 1.012")]
    [InlineData("1012", "1012 SG cannot be: it must be from 0.9 SG to 1.3 SG; it looks like 1012 kg/m³, so check the unit")]
    [InlineData("12", "12 SG cannot be: it must be from 0.9 SG to 1.3 SG; it looks like 12 points, 12 °P or 12 °Bx, so check the unit")]
    [InlineData("1e308", "1E308 SG cannot be: it must be from 0.9 SG to 1.3 SG")]
    [InlineData("soon", "'soon' is not a plain number such as 1.012")]
    [InlineData("", "the message is empty")]
    public void RejectedPayload_IsToldInWords(string payload, string words)
    {
        var mapping = new TopicMapping(
            "float",
            TopicFilter.Parse("float"),
            ValueList.Of<FieldMapping>(new FieldMapping(null, QuantityKind.Gravity, MeasurementUnit.SpecificGravity)),
            null);
        var message = PayloadDecoder.Decode("float", global::System.Text.Encoding.UTF8.GetBytes(payload), mapping);
        var rejected = new StoredRejection("gravity", Assert.Single(message.Rejected).Why);
        var stored = Assert.Single(ReasonJson.Read(ReasonJson.Write([rejected])));
        Assert.Equal(rejected, stored);
        Assert.Equal(words, ReasonWords.Of(stored.Because, new Reader(TimeZoneInfo.Utc)));
    }
}
