using FermentWatch.Infrastructure.Influx;
using Xunit;

namespace FermentWatch.System.Tests.Influx;

/// <summary>What is refused here is held against a real server, which judges lines by itself.</summary>
public sealed class LineCheckTests
{
    private static readonly string[] Malformed =
    [
        "m", "m ", "m f=1,", "m f= 1", "m =1 1", "m f=abc 1", "m f=\"open 1", "m f=1 x", "m f=1 1.5", "m,t f=1 1", "m,t= f=1 1",
        "m,=v f=1 1", "m f=1ii 1", "m f=1 99999999999999999999", "m f=9223372036854775808i 1", "m f=truthy 1", "m f=1 1 1", ",t=v f=1 1", "m f 1",
    ];

    private static readonly string[] Sound =
    [
        "m f=1 1", "m f=-1.5e-3 1", "m f=1i 1", "m f=true 1", "m f=\"a\" 1", "m f=\"a,b =\\\"c\\\\\" 1", "m,t=v f=1 1", "m,t=a\\ b\\,c\\=d f=1 1", "m f=1 -5",
        "m,t=\\x f=1 1",
    ];

    [Fact]
    public async Task LinesThatAServerRefuses_AreRefusedHereFirst()
    {
        await using var server = await InfluxOne.StartAsync();
        // A measurement of its own each: a field keeps the kind of its first point.
        var number = 0;
        string Own(string line) => line.StartsWith('m') ? $"m{++number}{line[1..]}" : line;
        foreach (var line in Malformed.Select(Own))
        {
            Assert.True(LineCheck.Read(line).Problem is not null, $"taken here: {line}");
            Assert.True(await server.WriteRawAsync(line) == 400, $"taken there: {line}");
        }

        foreach (var line in Sound.Select(Own))
        {
            Assert.True(LineCheck.Read(line).Problem is null, $"refused here: {line}: {LineCheck.Read(line).Problem}");
            Assert.True(await server.WriteRawAsync(line) == 204, $"refused there: {line}");
        }
    }

    [Theory]
    [InlineData("m f=1", "has no time")]
    [InlineData("m f=1 1\nm f=2 2", "holds a line end")]
    [InlineData("m,t=1,t=2 f=1 1", "has the tag t twice")]
    [InlineData("m f=1,f=2 1", "has the field f twice")]
    [InlineData("# f=1 1", "has no usable measurement")]
    [InlineData("m f=NaN 1", "has no usable value of the field f")]
    public void WhatServersTakeButWeNeverMean_IsRefusedToo(string line, string problem) => Assert.Equal(problem, LineCheck.Read(line).Problem);

    [Fact]
    public void EndlessLine_IsRefused() =>
        Assert.Contains("longer than", LineCheck.Read($"m f=\"{new string('x', LineCheck.Longest)}\" 1").Problem, StringComparison.Ordinal);
}
