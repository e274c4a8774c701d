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
    [InlineData("1,012", "1,012", "1.012")]
    [InlineData("1012", "1012 SG", "0.9 SG", "1.3 SG", "1012 kg/m³")]
    [InlineData("12", "12 SG", "12 points", "12 °P", "12 °Bx")]
    [InlineData("1e308", "1E+308 SG", "0.9 SG", "1.3 SG")]
    [InlineData("soon", "soon")]
    [InlineData("", "empty")]
    public void RejectedPayload_IsToldInWords(string payload, params string[] fragments)
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
        var words = ReasonWords.Of(stored.Because, new Reader(TimeZoneInfo.Utc)).Replace('\u00a0', ' ');
        Assert.All(fragments, fragment => Assert.Contains(fragment, words, StringComparison.Ordinal));
    }
}
