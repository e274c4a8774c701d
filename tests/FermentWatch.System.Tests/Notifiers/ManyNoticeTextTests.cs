using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Notices that tell of several alerts, of our own absence, or that an alert comes and goes: they fit, whole, with the longest names.</summary>
public sealed class ManyNoticeTextTests
{
    private static readonly string LongName = string.Concat(Enumerable.Repeat("Quince mead from the hill ", 3)).Trim();
    private static readonly string[] LongTitles = ["temperature-below", "danger-cold", "silent-several"];
    private static readonly Reader Reader = new(TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"));

    [Theory]
    [MemberData(nameof(NoticeSamples.Names), MemberType = typeof(NoticeSamples))]
    public void ChatteringAlert_SaysSoInFull(string sample)
    {
        var draft = NoticeSamples.Of(sample, LongName);
        // Ends of alerts never say it.
        if (draft.Kind is TransitionKind.Raised)
        {
            var text = Text(draft with { Body = Chattering.In(new NoticeWords(draft.Title, draft.Body), 12).Body }).Text;
            Assert.InRange(text.Length, 1, NoticeText.LongestText);
            Assert.Contains("It comes and goes: 12 times in 24 h.", text, StringComparison.Ordinal);
            Assert.EndsWith("Open the page for what to do.", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ThreeLongTitlesAndMore_FitWithTheCautionAndWhatToDo()
    {
        var titles = LongTitles.Select(sample => NoticeSamples.Of(sample, LongName).Title);
        var body = titles.Select(title => Reason.Of("many-line", new ReasonValue.Words(title)))
            .Append(Reason.Of("many-more", new ReasonValue.Count(28)))
            .Append(Reason.Of("ventilate-first"))
            .Append(Reason.Of("many-look"));
        foreach (var title in new[]
        {
            Reason.Of("title-group", new ReasonValue.Name(LongName), new ReasonValue.Count(31)),
            Reason.Of("title-flood", new ReasonValue.Count(31), new ReasonValue.Count(12)),
            Reason.Of("title-digest", new ReasonValue.Count(31)),
            Reason.Of("title-digest-one"),
        })
        {
            var message = Text(Draft(title, body));
            Assert.InRange(message.Title.Length, 1, NoticeText.LongestTitle);
            Assert.InRange(message.Text.Length, 1, NoticeText.LongestText);
            Assert.EndsWith("Ventilate first: CO2 is heavier than air and can suffocate. Open the page for what to do.", message.Text, StringComparison.Ordinal);
            Assert.Contains("And 28 more.", message.Text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("away-alerts", "away-lost", "away-look")]
    [InlineData("away-no-alerts", "away-covered", "nothing-to-do")]
    [InlineData("away-no-alerts", "away-no-sensors", "nothing-to-do")]
    public void OurAbsence_IsToldInFull(string alerts, string sensors, string todo)
    {
        var moment = new ReasonValue.Moment(EventTime.From(NoticeSamples.Now.ToDateTimeOffset().AddDays(-20)));
        var count = new ReasonValue.Count(12);
        var message = Text(Draft(
            Reason.Of("title-away", new ReasonValue.Length(TimeSpan.FromDays(20))),
            [Reason.Of("away", moment, moment), Reason.Of(alerts, count), Reason.Of(sensors, count, count), Reason.Of(todo)]));
        Assert.InRange(message.Title.Length, 1, NoticeText.LongestTitle);
        Assert.InRange(message.Text.Length, 1, NoticeText.LongestText);
        Assert.DoesNotContain('…', message.Text);
    }

    [Fact]
    public void MonthlyTestThatCameByAnotherWay_SaysHowToConfirmIt()
    {
        var message = Text(Draft(Reason.Of("title-monthly-test"), [Reason.Of("monthly-test"), Reason.Of("monthly-test-confirm"), Reason.Of("by-other-way")]));
        Assert.InRange(message.Title.Length, 1, NoticeText.LongestTitle);
        Assert.Contains("Confirm it under Settings", message.Text, StringComparison.Ordinal);
        Assert.DoesNotContain('…', message.Text);
    }

    private static Infrastructure.Notifiers.NoticeMessage Text(OutboxDraft draft) => NoticeText.Write(draft, Reader, NoticeSamples.Now, null);

    private static OutboxDraft Draft(Reason title, IEnumerable<Reason> body) =>
        new("key", "relay", "thread", new BatchId("quince"), Severity.Warning, Silent: false, title, ValueList.Of(body), NoticeSamples.Now);
}
