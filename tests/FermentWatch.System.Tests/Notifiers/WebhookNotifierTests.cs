using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

public sealed partial class WebhookNotifierTests
{
    private const string Secret = "quiet-orchard-4711-secret";
    private static readonly DateTimeOffset Now = new(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);

    private static readonly NoticeMessage Notice = new("a/b/1", "Plum: 27.8 °C", "\"Ventilate\" first.", Severity.Urgent, Silent: false, new Uri("https://cellar.example/batch/a"))
    {
        Acts = ValueList.Of(new NoticeAct("on-it", "On it", new Uri("https://cellar.example/act/x"))),
    };

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    // [RFC9421] appendix B.2.5, with the key of appendix B.1.5; written from memory, and it verifies itself: no other text has this signature.
    [Fact]
    public void ExampleOfTheStandard_HasItsSignature()
    {
        var key = Convert.FromBase64String("uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6pcl8jsasjlTMtDQ==");
        var text = HttpSignature.Base(
            [("date", "Tue, 20 Apr 2021 02:07:55 GMT"), ("@authority", "example.com"), ("content-type", "application/json")],
            "(\"date\" \"@authority\" \"content-type\");created=1618884473;keyid=\"test-shared-secret\"");
        Assert.Equal("pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8=", HttpSignature.Sign(key, text));
    }

    // [RFC9530] appendix B.1 and [RFC9421] section 2.2: the digest of this body; from memory, and again no other has it.
    [Fact]
    public void ExampleBody_HasItsDigest() =>
        Assert.Equal("sha-256=:X48E9qOokqqrvdts8nOJRJN3OWDUoyWxBf7kbu9DBPE=:", HttpSignature.DigestOf("{\"hello\": \"world\"}"u8));

    [Theory]
    [InlineData("")]
    [InlineData("?place=attic&x=%20")]
    public async Task Receiver_AcceptsWhatWeSignAndNothingElse(string query)
    {
        var seen = new HashSet<string>();
        var requests = new List<(Dictionary<string, string> Headers, string Path, string Query, byte[] Body)>();
        await using var receiver = await RelayReceiver.StartAsync((context, _) =>
        {
            requests.Add((context.Request.Headers.ToDictionary(one => one.Key, one => one.Value.ToString(), StringComparer.OrdinalIgnoreCase), context.Request.Path, context.Request.QueryString.Value ?? "", []));
            context.Response.StatusCode = 204;
            return Task.CompletedTask;
        });
        var settings = new WebhookSettings("webhook", new Uri(receiver.Topic + query), Secret) { AnswerWithin = TimeSpan.FromSeconds(60) };
        using var notifier = new WebhookNotifier(settings, new OutgoingRules { ThisMachine = true }, new FakeTimeProvider(Now));
        Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice, Stop));
        Assert.IsType<DeliveryResult.Delivered>(await notifier.DeliverAsync(Notice, Stop));

        var bodies = receiver.Requests.Select(one => Encoding.UTF8.GetBytes(one.Body)).ToList();
        var (first, second) = (requests[0] with { Body = bodies[0] }, requests[1] with { Body = bodies[1] });
        Assert.Equal("ok", Check(first, Secret, Now.AddMinutes(1), seen));
        Assert.Equal("nonce", Check(first, Secret, Now.AddMinutes(1), seen));
        Assert.Equal("ok", Check(second, Secret, Now.AddMinutes(1), seen));
        Assert.Equal("created", Check(second, Secret, Now.AddMinutes(6), []));
        Assert.Equal("signature", Check(first, Secret + "x", Now, []));
        Assert.Equal("signature", Check(first with { Path = "/elsewhere" }, Secret, Now, []));
        Assert.Equal("signature", Check(first with { Query = "?other" }, Secret, Now, []));
        var changed = bodies[0].ToArray();
        changed[^2] ^= 1;
        Assert.Equal("digest", Check(first with { Body = changed }, Secret, Now, []));
    }

    [Fact]
    public void Body_HoldsTheNoticeAndWhatCanBeSaid()
    {
        using var body = JsonDocument.Parse(WebhookNotifier.Body(Notice));
        var root = body.RootElement;
        Assert.Equal((Notice.Key, Notice.Title, Notice.Text, "urgent", false), (root.GetProperty("key").GetString(), root.GetProperty("title").GetString(), root.GetProperty("text").GetString(), root.GetProperty("severity").GetString(), root.GetProperty("silent").GetBoolean()));
        Assert.Equal("https://cellar.example/act/x", root.GetProperty("acts")[0].GetProperty("page").GetString());
        using var bare = JsonDocument.Parse(WebhookNotifier.Body(Notice with { Link = null, Acts = ValueList.Of<NoticeAct>() }));
        Assert.Equal(["key", "title", "text", "severity", "silent"], bare.RootElement.EnumerateObject().Select(one => one.Name));
    }

    /// <summary>A receiver as deploy/webhook.md tells to write it, from the headers alone.</summary>
    private static string Check((Dictionary<string, string> Headers, string Path, string Query, byte[] Body) request, string secret, DateTimeOffset now, HashSet<string> seen)
    {
        if (request.Headers["Content-Digest"] != "sha-256=:" + Convert.ToBase64String(SHA256.HashData(request.Body)) + ":")
        {
            return "digest";
        }

        var input = request.Headers["Signature-Input"];
        Assert.StartsWith("notice=(", input, StringComparison.Ordinal);
        var parameters = input["notice=".Length..];
        var lines = Component().Matches(parameters[..parameters.IndexOf(')', StringComparison.Ordinal)]).Select(match => match.Groups[1].Value).Select(name => $"\"{name}\": " + name switch
        {
            "@method" => "POST",
            "@path" => request.Path,
            "@query" => request.Query.Length == 0 ? "?" : request.Query,
            _ => request.Headers[name],
        }).Append("\"@signature-params\": " + parameters);
        var expected = HMACSHA256.HashData(Encoding.ASCII.GetBytes(secret), Encoding.ASCII.GetBytes(string.Join('\n', lines)));
        if (!CryptographicOperations.FixedTimeEquals(expected, Convert.FromBase64String(request.Headers["Signature"]["notice=:".Length..^1])))
        {
            return "signature";
        }

        var created = DateTimeOffset.FromUnixTimeSeconds(long.Parse(Created().Match(parameters).Groups[1].Value, global::System.Globalization.CultureInfo.InvariantCulture));
        if ((now - created).Duration() > TimeSpan.FromMinutes(5))
        {
            return "created";
        }

        return seen.Add(Nonce().Match(parameters).Groups[1].Value) ? "ok" : "nonce";
    }

    [GeneratedRegex("\"([^\"]+)\"")]
    private static partial Regex Component();

    [GeneratedRegex(";created=([0-9]+)")]
    private static partial Regex Created();

    [GeneratedRegex(";nonce=\"([0-9a-f]{32})\"")]
    private static partial Regex Nonce();
}
