using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

public sealed partial class NoticeTextTests
{
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    [Theory]
    [MemberData(nameof(NoticeSamples.Names), MemberType = typeof(NoticeSamples))]
    public void EachNotice_FitsWithTheLongestNames(string sample)
    {
        foreach (var name in new[] { "Quince mead", new string('W', 80), "Quitten-Met \U0001F36F aus dem großen Ballon im hinteren Keller links" })
        {
            var notice = Write(NoticeSamples.Of(sample, name));

            Assert.InRange(notice.Title.Length, 5, 40);
            Assert.InRange(notice.Text.Length, 5, 240);
            Assert.DoesNotMatch(Leftover(), notice.Title + notice.Text);
            Assert.DoesNotContain("safe", notice.Text, StringComparison.OrdinalIgnoreCase);
            Assert.True(notice.Text.Trim().EndsWith('.'), notice.Text);
        }
    }

    [Theory]
    [MemberData(nameof(NoticeSamples.Names), MemberType = typeof(NoticeSamples))]
    public void EachNoticeThatSendsSomebodyToTheVessel_SaysToVentilateFirst(string sample)
    {
        var draft = NoticeSamples.Of(sample, "Quince mead");
        var text = Write(draft).Text;

        Assert.Equal(!draft.Silent, text.Contains("entilate", StringComparison.Ordinal));
        Assert.Equal(!draft.Silent, text.Contains("CO2 is heavier than air and can suffocate", StringComparison.Ordinal));
    }

    [Fact]
    public void EachRule_HasSamplesOfItsNotices()
    {
        // What only informs stands in the digest; its words are held by the examples of the gallery.
        Assert.Equal(AlertRuleCatalog.All.Select(rule => rule.Id).Where(id => id is not ("forecast-moved" or "sugar-mixing")).Order(), NoticeSamples.Rules().Order());
    }

    [Fact]
    public void TemperatureNotice_SaysWhatHowSureAndWhatToDo()
    {
        var notice = Write(NoticeSamples.Of("temperature-above", "Quince mead"));

        Assert.Equal("Quince mead: 27.8 °C, limit 25 °C", notice.Title);
        Assert.Equal(
            "probe: 27.8 °C now, peak 28.1 °C; above 25 °C since 1:30 pm. Median of 3 readings in the liquid. Ventilate first: CO2 is heavier than air and can suffocate. Then cool it gently: shade, wet cloth.",
            notice.Text);
    }

    [Fact]
    public void Moments_AreLocalAndNameTheDayWhenItIsNotToday()
    {
        var now = ReceivedAt.From(new DateTimeOffset(2026, 3, 29, 12, 0, 0, TimeSpan.Zero));

        // Sources: IANA time zone database, Europe/Berlin: 01:00Z on 2026-03-29 is 2 am standard time, shown as 3 am.
        Assert.Equal("3:00 am", Moment(2026, 3, 29, 1, now));
        Assert.Equal("Sat 11:00 pm", Moment(2026, 3, 28, 22, now));
        // Lately is said in minutes as well; what lies ahead, or further back, is not.
        Assert.Equal("1:00 pm (60 min ago)", Moment(2026, 3, 29, 11, now));
        Assert.Equal("12:00 pm", Moment(2026, 3, 29, 10, now));
        Assert.Equal("3:00 pm", Moment(2026, 3, 29, 13, now));
        Assert.Equal("Feb 2 1:00 pm", Moment(2026, 2, 2, 12, now));
    }

    [Fact]
    public void NamesWithControlCharactersAndBraces_StayOnOneLineAndUnharmed()
    {
        var title = Write(NoticeSamples.Of("temperature-above", "Me{0}ad\r\nX")).Title;

        Assert.Equal("Me{0}ad  X: 27.8 °C, limit 25 °C", title);
    }

    [Theory]
    [InlineData("relay-slow")]
    [InlineData("relay-unreachable")]
    [InlineData("relay-certificate")]
    [InlineData("relay-redirects")]
    [InlineData("relay-busy")]
    [InlineData("relay-failing")]
    [InlineData("relay-forbids")]
    [InlineData("relay-refuses")]
    public void EachFaultOfTheRelay_HasItsWords(string code) =>
        Assert.DoesNotMatch(Leftover(), NoticeText.Of(Reason.Of(code, new ReasonValue.Count(404)), new Reader(Berlin), new ReceivedAt(0)));

    [Theory]
    [InlineData(null, false, null)]
    [InlineData("https://cellar.example", false, "https://cellar.example/batch/quince-mead")]
    [InlineData("https://cellar.example/brews/?x#y", false, "https://cellar.example/brews/batch/quince-mead")]
    [InlineData("https://cellar.example", true, null)]
    [InlineData("http://localhost:8080", false, null)]
    [InlineData("http://127.0.0.1", false, null)]
    public void Link_OnlyComesFromAConfiguredAddressThatAPhoneCanReach(string? address, bool isLoopbackOnly, string? expected) =>
        Assert.Equal(expected, NoticeLink.To(new BatchId("quince-mead"), address is null ? null : new Uri(address), isLoopbackOnly)?.AbsoluteUri);

    private static NoticeMessage Write(OutboxDraft draft) => NoticeText.Write(draft, new Reader(Berlin), NoticeSamples.Now, link: null);

    private static string Moment(int year, int month, int day, int hour, ReceivedAt now) => NoticeText.Of(
        Reason.Of(
            "sensor-never-heard",
            new ReasonValue.Name("p"),
            new ReasonValue.Count(0),
            new ReasonValue.Moment(EventTime.From(new DateTimeOffset(year, month, day, hour, 0, 0, TimeSpan.Zero)))),
        new Reader(Berlin),
        now)["p has sent nothing since it was attached, ".Length..^1];

    [GeneratedRegex(@"\{\d|System\.|[a-z]+-[a-z]+-[a-z]+")]
    private static partial Regex Leftover();
}
