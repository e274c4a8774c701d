using System.Globalization;
using FermentWatch.Infrastructure.Influx;
using FsCheck;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.System.Tests.Influx;

public sealed class LineTextTests
{
    /// <summary>Texts that would be something else than text if any exit took them at their word.</summary>
    public static TheoryData<string> Injections =>
    [
        "a,b", "a b", "a=b", "a\nb", "a\r\nb", "a\\", "a\\\\", "a\\,", "\\", ",", "=", " ", "\"", "a\"b", "a\\\"b", "a,site=other",
        "x value=1 1\nfermentwatch_reading,site=other value=2 2", "x\"value=9", "#comment", "%", "%41", "%5C", "%%41", "100%", "%E2%82%AC",
        "<script>alert(1)</script>", "'; DROP TABLE reading; --", "=1+2", "+1", "-1", "@SUM(A1)", "\tcell", "../../etc/passwd", "..\\..\\x",
        "{{7*7}}", "${7*7}", "\u202Egnp.exe", "été", "葡萄酒", "🍷", "a\u0000b", "a\u0007b", "a\u0085b", "a\u2028b", "true", "1i", "t=1,f=2",
    ];

    [Theory]
    [MemberData(nameof(Injections))]
    public void HostileText_ComesBackAsItWas_InTagAndField(string text) => AssertRoundTrip(text);

    [Property(MaxTest = 500)]
    public void AnyText_ComesBackAsItWas(NonEmptyString text) => AssertRoundTrip(Whole(text.Get));

    [Property(MaxTest = 300)]
    public void AnyNumber_ComesBackToTheLastBit(double number)
    {
        var line = new LineText("m").Field("a", number).Field("b", 1L).At(1)!;
        var (point, problem) = LineCheck.Read(line);
        Assert.Null(problem);
        var found = point!.Fields.Where(field => field.Key == "a").Select(field => (double)field.Value).ToList();
        Assert.Equal(double.IsFinite(number) ? [number] : [], found);
    }

    [Fact]
    public void PointWithoutField_IsNoLine()
    {
        Assert.Null(new LineText("m").Tag("a", "b").At(1));
        Assert.Null(new LineText("m").Field("a", double.NaN).Field("b", (string?)null).At(1));
    }

    [Fact]
    public void EmptyTag_IsLeftOut() => Assert.Equal("m,b=c f=1i 5", new LineText("m").Tag("a", "").Tag("b", "c").Field("f", true).At(5));

    [Theory]
    [InlineData("a comma decimal sign", "de-DE")]
    [InlineData("other digits", "ar-SA")]
    public void LanguageOfTheMachine_ChangesNothing(string what, string language)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(language);
            Assert.True(new LineText("m").Field("f", 1.0421).Field("n", -5L).At(-7) == "m f=1.0421,n=-5i -7", what);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static void AssertRoundTrip(string text)
    {
        var line = new LineText("m").Tag("tag", text).Tag("next", "n").Field("text", text).Field("number", 1.5).At(42)!;
        var (point, problem) = LineCheck.Read(line);
        Assert.True(problem is null, $"{problem}: {line}");
        Assert.Equal(["tag", "next"], point!.Tags.Select(tag => tag.Key));
        Assert.Equal(text, LineText.Unguarded(point.Tags[0].Value));
        Assert.Equal(text, LineText.Unguarded((string)point.Fields[0].Value));
        Assert.Equal(1.5, point.Fields[1].Value);
        Assert.Equal(42, point.UnixNanoseconds);
    }

    // Half of a pair is no character: what cannot be sent at all is not asked for.
    private static string Whole(string text) => global::System.Text.Encoding.UTF8.GetString(global::System.Text.Encoding.UTF8.GetBytes(text));
}
