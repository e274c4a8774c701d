using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

/// <summary>The document and the table are those of RFC 6901, section 5.</summary>
public sealed class JsonPointerTests
{
    private const string Rfc6901Document = """
        {
           "foo": ["bar", "baz"],
           "": 0,
           "a/b": 1,
           "c%d": 2,
           "e^f": 3,
           "g|h": 4,
           "i\\j": 5,
           "k\"l": 6,
           " ": 7,
           "m~n": 8
        }
        """;

    [Theory]
    [InlineData("/foo", "[\"bar\", \"baz\"]")]
    [InlineData("/foo/0", "\"bar\"")]
    [InlineData("/", "0")]
    [InlineData("/a~1b", "1")]
    [InlineData("/c%d", "2")]
    [InlineData("/e^f", "3")]
    [InlineData("/g|h", "4")]
    [InlineData("/i\\j", "5")]
    [InlineData("/k\"l", "6")]
    [InlineData("/ ", "7")]
    [InlineData("/m~0n", "8")]
    public void ExampleOfTheStandard_FindsItsValue(string text, string value)
    {
        using var document = JsonDocument.Parse(Rfc6901Document);
        Assert.True(JsonPointer.Parse(text).TryFind(document.RootElement, out var found, out _));
        Assert.Equal(value, found.GetRawText());
    }

    [Fact]
    public void EmptyPointer_IsTheWholeDocument()
    {
        using var document = JsonDocument.Parse(Rfc6901Document);
        Assert.True(JsonPointer.Parse(string.Empty).TryFind(document.RootElement, out var found, out _));
        Assert.Equal(JsonValueKind.Object, found.ValueKind);
    }

    [Theory]
    // Section 4: '-' is a nonexistent element, no leading zeros, digits only; section 7: errors are not found, not thrown.
    [InlineData("/foo/-")]
    [InlineData("/foo/00")]
    [InlineData("/foo/01")]
    [InlineData("/foo/+1")]
    [InlineData("/foo/2")]
    [InlineData("/foo/99999999999999999999")]
    [InlineData("/foo/bar")]
    [InlineData("/foo/")]
    [InlineData("/FOO")]
    [InlineData("/a~1b/0")]
    [InlineData("/m~01n")]
    public void PointerToNothing_IsMissing(string text)
    {
        using var document = JsonDocument.Parse(Rfc6901Document);
        Assert.False(JsonPointer.Parse(text).TryFind(document.RootElement, out _, out var why));
        Assert.Equal(DecodeReasons.FieldMissing, why.Code);
    }

    [Fact]
    public void TildeZeroOne_IsTheNameTildeOne()
    {
        // Section 4: ~1 is replaced first, so that ~01 becomes ~1 and not a slash.
        using var document = JsonDocument.Parse("""{"~1": 1, "/": 2}""");
        Assert.True(JsonPointer.Parse("/~01").TryFind(document.RootElement, out var found, out _));
        Assert.Equal(1, found.GetInt32());
    }

    [Fact]
    public void NameThatOccursTwice_IsAmbiguous()
    {
        using var document = JsonDocument.Parse("""{"sg": 1.05, "sg": 1.04}""");
        Assert.False(JsonPointer.Parse("/sg").TryFind(document.RootElement, out _, out var why));
        Assert.Equal(DecodeReasons.FieldAmbiguous, why.Code);
    }

    [Theory]
    [InlineData("foo")]
    [InlineData("#/foo")]
    [InlineData("/a~b")]
    [InlineData("/a~")]
    [InlineData("/a~2")]
    public void TextThatIsNoPointer_IsRefused(string text) => Assert.Throws<FormatException>(() => JsonPointer.Parse(text));
}
