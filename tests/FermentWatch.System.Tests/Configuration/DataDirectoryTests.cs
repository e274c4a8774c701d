using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Configuration;

/// <summary>Places of the XDG Base Directory Specification 0.8.</summary>
public sealed class DataDirectoryTests
{
    [Fact]
    public void AskedFor_Wins() =>
        Assert.Equal(Path.GetFullPath("cellar"), DataDirectory.Resolve("cellar", Environment("/xdg", "/home/maker")));

    [Fact]
    public void SharedDirectory_ComesNext() =>
        Assert.Equal(Path.Combine("/xdg", "fermentwatch"), DataDirectory.Resolve(null, Environment("/xdg", "/home/maker")));

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("relative/path")]
    public void WithoutIt_TheHomeDirectoryHoldsTheData(string? shared)
    {
        Assert.Equal("/home/maker/.local/share/fermentwatch", DataDirectory.Resolve(null, Environment(shared, "/home/maker")));
    }

    private static Dictionary<string, string?> Environment(string? shared, string home) => new() { ["XDG_DATA_HOME"] = shared, ["HOME"] = home };
}
