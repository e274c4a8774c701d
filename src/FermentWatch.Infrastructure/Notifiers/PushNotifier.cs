using System.Buffers.Text;
using System.Globalization;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A browser that takes notices.</summary>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Endpoint">Address of its subscription at its push service. Who knows it may try to send: never printed.</param>
/// <param name="Key">Its public key: an uncompressed point on P-256.</param>
/// <param name="Secret">Its authentication secret, 16 bytes. Never printed.</param>
public sealed record PushSubscription(string Channel, Uri Endpoint, byte[] Key, byte[] Secret)
{
    /// <summary>Longest wait for one answer.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Names the channel and the host, nothing else.</summary>
    public override string ToString() => $"{Channel} at {Endpoint.Host}";
}

/// <summary>Sends notices to a browser through its push service ([RFC8030]), encrypted for that browser alone.</summary>
public sealed class PushNotifier : INotifier, IDisposable
{
    private readonly PushSubscription _browser;
    private readonly PushIdentity _identity;
    private readonly string? _subject;
    private readonly TimeProvider _time;
    private readonly GuardedHttp _http;

    /// <summary>Builds a notifier.</summary>
    /// <param name="browser">To whom.</param>
    /// <param name="identity">Who sends.</param>
    /// <param name="subject">Where the sender can be reached: an https or mailto address, or null.</param>
    /// <param name="rules">Where requests may go.</param>
    /// <param name="time">For dates.</param>
    public PushNotifier(PushSubscription browser, PushIdentity identity, string? subject, OutgoingRules rules, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(browser);
        ArgumentNullException.ThrowIfNull(rules);
        (_browser, _identity, _subject, _time) = (browser, identity, subject, time);
        _http = new GuardedHttp("push", rules, browser.AnswerWithin, time);
    }

    /// <inheritdoc/>
    public string Channel => _browser.Channel;

    /// <inheritdoc/>
    public Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        var plain = WebhookNotifier.Body(message);
        if (plain.Length > PushEncryption.LongestMessage)
        {
            // The links of the buttons are the longest part, and the page has them too.
            plain = WebhookNotifier.Body(message with { Acts = ValueList.Of<NoticeAct>() });
        }

        try
        {
            var body = PushEncryption.Encrypt(plain, _browser.Key, _browser.Secret);
            return _http.SendAsync(() => Request(message, body), Special, cancellationToken);
        }
        catch (CryptographicException)
        {
            return Task.FromResult<DeliveryResult>(new DeliveryResult.Refused(Reason.Of("push-gone")));
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    // [RFC8030] section 7.3: the subscription has ended, and only the browser can make another.
    private static DeliveryResult.Refused? Special(int status) => status is 404 or 410 ? new DeliveryResult.Refused(Reason.Of("push-gone")) : null;

    private HttpRequestMessage Request(NoticeMessage message, byte[] body)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        content.Headers.ContentEncoding.Add("aes128gcm");
        var request = new HttpRequestMessage(HttpMethod.Post, _browser.Endpoint) { Content = content };
        request.Headers.Authorization = new AuthenticationHeaderValue("vapid", _identity.Credentials(_browser.Endpoint, _time.GetUtcNow(), _subject));
        // A day, as long as we ourselves would try; what is later known by another notice of the same topic replaces it ([RFC8030] sections 5.2 to 5.4).
        request.Headers.TryAddWithoutValidation("TTL", ((int)DeliverySchedule.Window.TotalSeconds).ToString(CultureInfo.InvariantCulture));
        request.Headers.TryAddWithoutValidation("Urgency", message switch { { Silent: true } => "low", { Severity: Severity.Urgent } => "high", _ => "normal" });
        request.Headers.TryAddWithoutValidation("Topic", Base64Url.EncodeToString(SHA256.HashData(Encoding.UTF8.GetBytes(message.Key)))[..32]);
        return request;
    }
}
