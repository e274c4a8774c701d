using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A receiver of signed JSON.</summary>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Url">Absolute address, http or https, kept as a secret.</param>
/// <param name="Secret">Shared with the receiver. Never printed.</param>
public sealed record WebhookSettings(string Channel, Uri Url, string Secret)
{
    /// <summary>Fewest characters of a secret.</summary>
    public const int ShortestSecret = 16;

    /// <summary>Longest wait for one answer.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Names the channel and the host, nothing else.</summary>
    public override string ToString() => $"{Channel} at {Url.Host}";
}

/// <summary>Posts notices as JSON, signed with a shared secret: see <see cref="HttpSignature"/>.</summary>
public sealed class WebhookNotifier : INotifier, IDisposable
{
    private readonly WebhookSettings _settings;
    private readonly TimeProvider _time;
    private readonly GuardedHttp _http;

    /// <summary>Builds a notifier.</summary>
    public WebhookNotifier(WebhookSettings settings, OutgoingRules rules, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(rules);
        (_settings, _time) = (settings, time);
        _http = new GuardedHttp("webhook", rules, settings.AnswerWithin, time);
    }

    /// <inheritdoc/>
    public string Channel => _settings.Channel;

    /// <summary>The body of a notice, in UTF-8.</summary>
    public static byte[] Body(NoticeMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        var body = new JsonObject
        {
            ["key"] = message.Key,
            ["title"] = message.Title,
            ["text"] = message.Text,
            ["severity"] = message.Severity.ToString().ToLowerInvariant(),
            ["silent"] = message.Silent,
        };
        if (message.Link is { } link)
        {
            body["page"] = link.AbsoluteUri;
        }

        if (message.Acts.Count > 0)
        {
            body["acts"] = new JsonArray([.. message.Acts.Select(act => new JsonObject { ["act"] = act.Word, ["label"] = act.Label, ["page"] = act.Link.AbsoluteUri })]);
        }

        return JsonSerializer.SerializeToUtf8Bytes(body);
    }

    /// <inheritdoc/>
    public Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        var body = Body(message);
        return _http.SendAsync(() => Request(body), special: null, cancellationToken);
    }

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    // Signed anew for each try: what was used once is not used again.
    private HttpRequestMessage Request(byte[] body)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        var request = new HttpRequestMessage(HttpMethod.Post, _settings.Url) { Content = content };
        HttpSignature.Put(request, body, Encoding.UTF8.GetBytes(_settings.Secret), _time.GetUtcNow(), RandomNumberGenerator.GetHexString(32, lowercase: true));
        return request;
    }
}
