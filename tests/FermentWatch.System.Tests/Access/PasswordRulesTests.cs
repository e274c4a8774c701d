using FermentWatch.Service.Access;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Source of the rules: NIST SP 800-63B section 5.1.1.2. The examples are from memory and our own.</summary>
public sealed class PasswordRulesTests
{
    [Theory]
    [InlineData("short word", "password-short")]
    [InlineData("password1234", "password-common")]
    [InlineData("P@ssw0rd!2026", "password-common")]
    [InlineData("iloveyou2020!!", "password-common")]
    [InlineData("qwertyuiop123", "password-common")]
    [InlineData("1q2w3e4r5t6y", "password-common")]
    [InlineData("987654321098", "password-common")]
    [InlineData("abcabcabcabc", "password-common")]
    [InlineData("aaaaaaaaaaaaaaa", "password-common")]
    [InlineData("welcome home 99", "password-common")]
    [InlineData("correcthorsebatterystaple", "password-common")]
    [InlineData("letmein letmein", "password-common")]
    [InlineData("winemaker2026", "password-common")]
    [InlineData("............", "password-common")]
    [InlineData("thequietbellamybarrel", "password-name")]
    public void GuessedFirst_IsRefused(string password, string fault) => Assert.Equal(fault, PasswordRules.Fault(password, "Bellamy"));

    [Theory]
    [InlineData("ladle orchard quartz")]
    [InlineData("ñandú über Ångström")]
    [InlineData("thimblegravelotter")]
    [InlineData("7r$kQ!x9-Lm2vB")]
    public void OwnPhrase_IsTaken(string password) => Assert.Null(PasswordRules.Fault(password, "Bellamy"));

    [Fact]
    public void Length_CountsAtBothEnds()
    {
        var phrase = string.Concat(Enumerable.Range(0, 60).Select(number => (char)('a' + (number * number % 23)) + "zk"));
        Assert.Equal("password-short", PasswordRules.Fault("vbn kjw pqz"[..11], "x"));
        Assert.Null(PasswordRules.Fault(phrase + phrase[..20], "x"));
        Assert.Equal("password-long", PasswordRules.Fault(phrase + phrase, "x"));
    }

    [Fact]
    public void SetUpCode_CountsForThirtyMinutesHoweverItIsTyped()
    {
        var clock = new FakeTimeProvider(new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero));
        var code = new SetUpCode(clock);
        Assert.NotEqual(code.Text, new SetUpCode(clock).Text);
        Assert.Matches("^[A-Z2-9]{5}-[A-Z2-9]{5}$", code.Text);
        Assert.True(code.Fits(" " + code.Text.ToLowerInvariant().Replace("-", " ", StringComparison.Ordinal)));
        Assert.False(code.Fits(""));
        Assert.False(code.Fits(code.Text[..10]));
        clock.Advance(TimeSpan.FromMinutes(30) - TimeSpan.FromSeconds(1));
        Assert.True(code.Fits(code.Text));
        clock.Advance(TimeSpan.FromSeconds(1));
        Assert.False(code.Fits(code.Text));
    }
}
