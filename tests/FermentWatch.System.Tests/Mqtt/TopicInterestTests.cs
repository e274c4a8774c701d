using FermentWatch.Infrastructure.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Which filter covers which follows from MQTT 5 section 4.7.1 (wildcards) and 4.7.2 (topics beginning with $).</summary>
public sealed class TopicInterestTests
{
    [Theory]
    [InlineData("#", "a/b", true)]
    [InlineData("#", "+/b", true)]
    [InlineData("#", "$SYS/x", false)]
    [InlineData("+/x", "$SYS/x", false)]
    [InlineData("a/#", "a", true)]
    [InlineData("a/#", "a/+/c", true)]
    [InlineData("a/+", "a/b", true)]
    [InlineData("a/+", "a/b/c", false)]
    [InlineData("a/+", "a/#", false)]
    [InlineData("a/+", "a/+", true)]
    [InlineData("a/b", "a/+", false)]
    [InlineData("+/b", "a/+", false)]
    public void Cover_FollowsTheRulesOfWildcards(string wide, string narrow, bool covers) => Assert.Equal(covers, TopicInterest.Covers(wide, narrow));

    [Fact]
    public void CoveredAndRepeatedFilters_AreSubscribedOnce() =>
        Assert.Equal(["cellar/#", "+/shed/sg"], InboxProbe.Interest("cellar/a/sg", "cellar/#", "+/shed/sg", "cellar/#").SubscriptionFilters);

    [Fact]
    public void OwnEcho_IsNeverMapped()
    {
        var interest = InboxProbe.Interest("#");

        Assert.True(interest.IsMapped("fermentwatch/one/other"));
        Assert.False(interest.IsMapped("fermentwatch/one/echo"));
    }
}
