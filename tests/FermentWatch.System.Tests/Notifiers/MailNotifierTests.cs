using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Texts;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Letters against a real server, faults against one that plays them. Reply codes: RFC 5321, section 4.2.3; 535 and 454 of a sign-in: RFC 4954, section 6.</summary>
public sealed class MailNotifierTests
{
    private const string Secret = "hunter2-attic";

    private static readonly NoticeMessage Notice = new(
        "heather/temperature-band/1", "Heather mead 24.0 °C", "Above 22.0 °C since 4:10 am <b>. Cool it.", Severity.Urgent, Silent: false, new Uri("http://cellar.example/batch/heather"));

    [Fact]
    public async Task Notice_ArrivesAsPlainTextAndHtmlAndRepeatsShareAThread()
    {
        await using var sink = await MailSink.StartAsync();
        var notifier = new MailNotifier(Settings(sink.Port) with { Channel = "mail" }, TimeProvider.System);
        Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice, Stop));
        Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice with { Text = "Still above." }, Stop));
        await Eventually.TrueAsync(() => sink.Text.Split("END MESSAGE").Length == 3, () => sink.Text);
        var text = sink.Text;
        Assert.Contains("multipart/alternative", text, StringComparison.Ordinal);
        Assert.Contains("text/plain", text, StringComparison.Ordinal);
        Assert.Contains("To: maker@example.org, taster@example.org", text, StringComparison.Ordinal);
        Assert.Contains("http://cellar.example/batch/heather", text, StringComparison.Ordinal);
        Assert.Contains("&lt;b&gt;", text, StringComparison.Ordinal);
        Assert.Contains("Importance: high", text, StringComparison.OrdinalIgnoreCase);
        // Nothing that a mail program would fetch by itself.
        Assert.DoesNotContain("<img", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=", text.Replace("charset=", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        Assert.Single(Header(text, "References: ").Distinct());
        Assert.Equal(2, Header(text, "References: ").Count);
        Assert.Equal(2, Header(text, "Message-Id: ").Distinct().Count());
    }

    [Fact]
    public async Task SameNoticeSentTwice_HasTheSameMessageId()
    {
        await using var sink = await MailSink.StartAsync();
        var notifier = new MailNotifier(Settings(sink.Port), TimeProvider.System);
        await notifier.DeliverAsync(Notice, Stop);
        await notifier.DeliverAsync(Notice, Stop);
        await Eventually.TrueAsync(() => sink.Text.Split("END MESSAGE").Length == 3, () => sink.Text);
        Assert.Single(Header(sink.Text, "Message-Id: ").Distinct());
    }

    [Theory]
    [InlineData("RCPT", "550 no such user", "mail-refuses-recipient", false)]
    [InlineData("RCPT", "451 later", "mail-busy", true)]
    [InlineData("MAIL", "553 not from there", "mail-refuses", false)]
    [InlineData("MAIL", "421 too busy", "mail-busy", true)]
    [InlineData(".", "554 spam", "mail-refuses", false)]
    [InlineData("DATA", null, "mail-failing", true)]
    [InlineData("connect", "220 no words that anybody knows\r\n000 oops", "mail-failing", true)]
    [InlineData("AUTH", "535 wrong: hunter2-attic", "mail-forbids", false)]
    [InlineData("AUTH", "454 not now", "mail-busy", true)]
    public async Task Fault_IsNamedWithoutSecretsAndTriedAgainWhereThatIsSensible(string command, string? answer, string code, bool isTriedAgain)
    {
        await using var server = new ScriptedMailServer(line => line.StartsWith(command, StringComparison.Ordinal) ? answer : Usual(line));
        var settings = command == "AUTH" ? Settings(server.Port) with { User = "cellar", Password = Secret } : Settings(server.Port);
        var result = await new MailNotifier(settings, TimeProvider.System).DeliverAsync(Notice, Stop);
        var because = result switch
        {
            DeliveryResult.TryAgain again => again.Because,
            DeliveryResult.Refused refused => refused.Because,
            _ => throw new InvalidOperationException("It was delivered."),
        };
        Assert.Equal(code, because.Code);
        Assert.Equal(isTriedAgain, result is DeliveryResult.TryAgain);
        var words = NoticeText.Of(because, new FermentWatch.Service.Dashboard.Words.Reader(TimeZoneInfo.Utc), ReceivedAt.From(DateTimeOffset.UnixEpoch));
        Assert.DoesNotContain(Secret, words + result + settings, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NobodyListens_TriedAgain()
    {
        var result = await new MailNotifier(Settings(FreePort.Take()), TimeProvider.System).DeliverAsync(Notice, Stop);
        Assert.Equal("mail-unreachable", Assert.IsType<DeliveryResult.TryAgain>(result).Because.Code);
    }

    [Fact]
    public async Task ServerThatNeverAnswers_TriedAgain()
    {
        using var silent = new global::System.Net.Sockets.TcpListener(global::System.Net.IPAddress.Loopback, 0);
        silent.Start();
        var port = ((global::System.Net.IPEndPoint)silent.LocalEndpoint).Port;
        var settings = Settings(port) with { AnswerWithin = TimeSpan.FromMilliseconds(300) };
        var result = await new MailNotifier(settings, TimeProvider.System).DeliverAsync(Notice, Stop);
        Assert.Equal("mail-slow", Assert.IsType<DeliveryResult.TryAgain>(result).Because.Code);
    }

    [Theory]
    [InlineData(MailSecurity.StartTls, "mail-unsupported")]
    [InlineData(MailSecurity.Tls, "mail-certificate")]
    public async Task ServerWithoutTls_GetsNoLetterInTheClear(MailSecurity security, string code)
    {
        await using var server = new ScriptedMailServer(Usual);
        var result = await new MailNotifier(Settings(server.Port) with { Security = security, AnswerWithin = TimeSpan.FromSeconds(30) }, TimeProvider.System).DeliverAsync(Notice, Stop);
        Assert.Contains(code, result.ToString(), StringComparison.Ordinal);
    }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static MailSettings Settings(int port) =>
        new("127.0.0.1", port, MailSecurity.None, "cellar@example.org", ValueList.Of<string>("maker@example.org", "taster@example.org"));

    private static string? Usual(string command) => command.Split(' ')[0] switch
    {
        "connect" => "220 ready",
        "EHLO" => "250-here\r\n250 AUTH PLAIN",
        "AUTH" => "235 welcome",
        "DATA" => "354 go on",
        "QUIT" => "221 bye",
        _ => "250 ok",
    };

    private static List<string> Header(string text, string name) =>
        [.. text.Split('\n').Where(line => line.StartsWith(name, StringComparison.OrdinalIgnoreCase))];
}
