using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

public sealed class PageSliceTests
{
    [Fact]
    public void WithoutAWord_IsThePhoneInBothThemesInEnglish()
    {
        var slice = PageSlice.Of(null, null, null);
        Assert.Equal([390], slice.Widths);
        Assert.Equal([ColorScheme.Light, ColorScheme.Dark], slice.Themes);
        Assert.Equal(["en"], slice.Languages);
        Assert.False(slice.IsThorough);
    }

    [Fact]
    public void Named_IsThatPartAndEveryStopOfTheKeyboard()
    {
        var slice = PageSlice.Of("320, 768", "dark", "de,fr");
        Assert.Equal([320, 768], slice.Widths);
        Assert.Equal([ColorScheme.Dark], slice.Themes);
        Assert.Equal(["de", "fr"], slice.Languages);
        Assert.True(slice.IsThorough);
        Assert.Equal([320, 390, 768, 1280], PageSlice.Of("all", null, null).Widths);
    }

    [Theory]
    [InlineData("wide", null, null, "Width 'wide': expected")]
    [InlineData("100", null, null, "Width '100': expected")]
    [InlineData("320", "sepia", null, "Theme 'sepia': expected")]
    [InlineData("320", null, "xx", "Language 'xx': expected")]
    public void PartThatIsNotThere_IsNamed(string widths, string? themes, string? languages, string said) =>
        Assert.StartsWith(said, Assert.Throws<FormatException>(() => PageSlice.Of(widths, themes, languages)).Message, StringComparison.Ordinal);
}
