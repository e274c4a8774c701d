using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>The examples of the gallery: one of every rule, of the right length, each with what to do now.</summary>
public sealed partial class NoticeExamplesTests
{
    private static readonly ReceivedAt Now = ReceivedAt.From(new DateTimeOffset(2026, 10, 6, 6, 0, 0, TimeSpan.Zero));

    public static TheoryData<int> Numbers => [.. Enumerable.Range(0, NoticeExamples.All("Quince mead", Now).Count)];

    [Fact]
    public void EveryRule_HasAnExampleOfBeingRaised() => Assert.Equal(
        AlertRuleCatalog.All.Select(rule => rule.Id).Order(StringComparer.Ordinal),
        NoticeExamples.All("Quince mead", Now).Where(one => one.Kind is TransitionKind.Raised).Select(one => one.Rule).Distinct().Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Numbers))]
    public void Example_KeepsItsLengthsAndNamesItsAction(int number)
    {
        foreach (var name in new[] { "Quince mead", "A name of a batch that is as long as a name may be, and longer still" })
        {
            foreach (var reader in new[] { new Reader(TimeZoneInfo.Utc), new Reader(TimeZoneInfo.FindSystemTimeZoneById("Australia/Lord_Howe")) })
            {
                var example = NoticeExamples.All(name, Now)[number];
                var message = Written(example, reader);
                Assert.InRange(message.Title.Length, 10, 40);
                Assert.InRange(message.Text.Length, 10, 240);
                Assert.DoesNotMatch("[{}]", message.Title + message.Text);
                // An ending that asks for nothing says so, or simply that it is over; whatever else comes asks for something.
                if (example.Kind is TransitionKind.Raised)
                {
                    Assert.True(Act().IsMatch(message.Text), $"{example.Rule}: '{message.Text}' does not say what to do");
                }
            }
        }
    }

    [Fact]
    public void NoticesThatSendSomebodyIntoTheCellar_TellToVentilate()
    {
        foreach (var example in NoticeExamples.All("Quince mead", Now).Where(one => one.Kind is TransitionKind.Raised))
        {
            var text = Written(example, new Reader(TimeZoneInfo.Utc)).Text;
            Assert.True(text.Contains("entilate", StringComparison.Ordinal), $"{example.Rule}: '{text}' sends into the cellar without a word of carbon dioxide");
        }
    }

    /// <summary>A helper's steps fit beside the evidence uncut, name the air or the danger first, and end with whom to tell.</summary>
    [Fact]
    public void StepsOfAHelper_FitAndAreWhole()
    {
        foreach (var example in NoticeExamples.All("Quince mead", Now).Where(one => one.Kind is TransitionKind.Raised))
        {
            var steps = HelperSteps.Of(example.Rule, example.Words.Body);
            var text = Written(example with { Words = new NoticeWords(example.Words.Title, steps) }, new Reader(TimeZoneInfo.Utc)).Text;
            Assert.InRange(text.Length, 10, 240);
            Assert.DoesNotContain("…", text, StringComparison.Ordinal);
            Assert.Matches("Air the room first|Bottles may burst", text);
            Assert.Contains("the maker", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Page_ShowsThemAll()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        var html = WebUtility.HtmlDecode(await visitor.Client.GetStringAsync("channels/gallery", TestContext.Current.CancellationToken));
        Assert.Equal(NoticeExamples.All("Quince mead", Now).Count, Regex.Count(html, "<article class=\"example\""));
        Assert.All(AlertRuleCatalog.All, rule => Assert.Contains($"data-rule=\"{rule.Id}\"", html, StringComparison.Ordinal));
        Assert.Contains("27.8 °C", html, StringComparison.Ordinal);
        Assert.Contains("channels/gallery", await visitor.Client.GetStringAsync("channels", TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    private static NoticeMessage Written(NoticeExample example, Reader reader) => NoticeText.Write(
        new OutboxDraft("k", "relay", "k", new BatchId("example"), example.Severity, example.Silent, example.Words.Title, example.Words.Body, Now), reader, Now, link: null);

    // A sentence that begins with what to do; 'ventilate first' alone is a caution, no act.
    [GeneratedRegex("(?:^|[.:?] )(?:Then |If so, |Do not |Never |Power, |They share [a-z, ]+: )?(?:cool|warm|move|look|degas|measure|taste|refill|feel|free|check|chill|stir|sulfite|cover|weigh|dissolve|give|change|write|rack|top up|nothing to do)", RegexOptions.IgnoreCase)]
    private static partial Regex Act();
}
