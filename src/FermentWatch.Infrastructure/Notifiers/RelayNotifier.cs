using System.Net.Http.Headers;
using FermentWatch.Monitoring.Alerting;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Publishes notices to a push relay: one HTTP POST of JSON to the configured address; see <see cref="GuardedHttp"/>.</summary>
public sealed class RelayNotifier : INotifier, IDisposable
{
    private readonly RelaySettings _settings;
    private readonly RelayTemplate _template;
    private readonly GuardedHttp _http;

    /// <summary>Builds a notifier.</summary>
    /// <exception cref="ArgumentException">A setting is wrong: the message says which and what would be right.</exception>
    public RelayNotifier(RelaySettings settings, OutgoingRules rules, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(rules);
        ArgumentNullException.ThrowIfNull(time);
        if (settings.Fault() is { } fault)
        {
            throw new ArgumentException(fault, nameof(settings));
        }

        _settings = settings;
        _template = RelayTemplate.Parse(settings.Body);
        _http = new GuardedHttp("relay", rules, settings.AnswerWithin, time);
    }

    /// <inheritdoc/>
    public string Channel => _settings.Channel;

    /// <inheritdoc/>
    public Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        var body = _template.Fill(message, _settings.Priorities[PriorityOf(message)]);
        return _http.SendAsync(() => Request(body), special: null, cancellationToken);
    }

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    private static int PriorityOf(NoticeMessage message) => message switch
    {
        { Silent: true } => 0,
        { Severity: Severity.Urgent } => 3,
        { Severity: Severity.Warning } => 2,
        _ => 1,
    };

    private HttpRequestMessage Request(byte[] body)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json", "utf-8");
        var request = new HttpRequestMessage(HttpMethod.Post, _settings.Url) { Content = content };
        if (_settings.BearerToken is { } token)
        {
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        }

        return request;
    }
}
