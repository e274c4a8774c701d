using System.Net;
using System.Net.Http.Headers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>
/// Publishes notices to a push relay: one HTTP POST of JSON to the configured address. Three quick tries for a fault that passes at
/// once; everything slower is for <see cref="DeliverySchedule"/>. Follows no redirect, keeps no cookie, reads no answer beyond its head.
/// </summary>
public sealed class RelayNotifier : INotifier, IDisposable
{
    // What of an answer's body is taken off the wire, unread, to keep the connection for the next notice.
    private const int LongestAnswerBytes = 64 * 1024;

    private readonly RelaySettings _settings;
    private readonly RelayTemplate _template;
    private readonly TimeProvider _time;
    private readonly HttpClient _client;
    private readonly ResiliencePipeline<HttpResponseMessage> _tries;

    /// <summary>Builds a notifier.</summary>
    /// <exception cref="ArgumentException">A setting is wrong: the message says which and what would be right.</exception>
    public RelayNotifier(RelaySettings settings, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(time);
        if (settings.Fault() is { } fault)
        {
            throw new ArgumentException(fault, nameof(settings));
        }

        _settings = settings;
        _template = RelayTemplate.Parse(settings.Body);
        _time = time;
        _client = new HttpClient(
            new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseCookies = false,
                MaxResponseDrainSize = LongestAnswerBytes,
                ResponseDrainTimeout = TimeSpan.FromSeconds(1),
                PooledConnectionLifetime = TimeSpan.FromMinutes(5),
                UseProxy = settings.MayBeHere,
                ConnectCallback = settings.MayBeHere ? null : static (context, stop) => OutgoingGuard.ConnectAsync(context.DnsEndPoint, stop),
            })
        {
            Timeout = Timeout.InfiniteTimeSpan,
        };
        _tries = new ResiliencePipelineBuilder<HttpResponseMessage> { TimeProvider = time }
            .AddRetry(new RetryStrategyOptions<HttpResponseMessage>
            {
                MaxRetryAttempts = 2,
                Delay = TimeSpan.FromMilliseconds(250),
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
                ShouldHandle = static arguments => ValueTask.FromResult(PassesAtOnce(arguments.Outcome)),
            })
            .AddTimeout(settings.AnswerWithin)
            .Build();
    }

    /// <inheritdoc/>
    public string Channel => _settings.Channel;

    /// <inheritdoc/>
    public async Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        var body = _template.Fill(message, _settings.Priorities[PriorityOf(message)]);
        try
        {
            using var answer = await _tries.ExecuteAsync(async token => await PostAsync(body, token), cancellationToken);
            return Judge(answer);
        }
        catch (TimeoutRejectedException)
        {
            return Again("relay-slow", new ReasonValue.Length(_settings.AnswerWithin));
        }
        catch (HttpRequestException exception) when (exception.InnerException is ForbiddenAddressException)
        {
            return new DeliveryResult.Refused(Reason.Of("relay-forbidden-address"));
        }
        catch (HttpRequestException exception)
        {
            return exception.HttpRequestError is HttpRequestError.SecureConnectionError ? Again("relay-certificate") : Again("relay-unreachable");
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private static int PriorityOf(NoticeMessage message) => message switch
    {
        { Silent: true } => 0,
        { Severity: Severity.Urgent } => 3,
        { Severity: Severity.Warning } => 2,
        _ => 1,
    };

    private static bool PassesAtOnce(Outcome<HttpResponseMessage> outcome) => outcome switch
    {
        { Exception: HttpRequestException { InnerException: ForbiddenAddressException } } => false,
        { Exception: HttpRequestException fault } => fault.HttpRequestError is not HttpRequestError.SecureConnectionError,
        { Result: { } answer } => answer.Headers.RetryAfter is null
            && answer.StatusCode is HttpStatusCode.BadGateway or HttpStatusCode.ServiceUnavailable or HttpStatusCode.GatewayTimeout,
        _ => false,
    };

    private static DeliveryResult.TryAgain Again(string code, params ReasonValue[] values) => new(Reason.Of(code, values), NotBefore: null);

    private async Task<HttpResponseMessage> PostAsync(byte[] body, CancellationToken cancellationToken)
    {
        using var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json", "utf-8");
        using var request = new HttpRequestMessage(HttpMethod.Post, _settings.Url) { Content = content };
        if (_settings.BearerToken is { } token)
        {
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        }

        return await _client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
    }

    private DeliveryResult Judge(HttpResponseMessage answer)
    {
        var status = (int)answer.StatusCode;
        var number = new ReasonValue.Count(status);
        return status switch
        {
            >= 200 and < 300 => new DeliveryResult.Delivered(),
            >= 300 and < 400 => new DeliveryResult.Refused(Reason.Of("relay-redirects", number)),
            429 => new DeliveryResult.TryAgain(Reason.Of("relay-busy", number), RetryAfter(answer)),
            408 or 425 or >= 500 => new DeliveryResult.TryAgain(Reason.Of("relay-failing", number), RetryAfter(answer)),
            401 or 403 => new DeliveryResult.Refused(Reason.Of("relay-forbids", number)),
            _ => new DeliveryResult.Refused(Reason.Of("relay-refuses", number)),
        };
    }

    private ReceivedAt? RetryAfter(HttpResponseMessage answer)
    {
        var now = _time.GetUtcNow();
        return answer.Headers.RetryAfter switch
        {
            // Longer than the window of retries says no more than 'after it', and could overflow a date.
            { Delta: { } delta } => ReceivedAt.From(now + (delta < DeliverySchedule.Window ? delta : DeliverySchedule.Window)),
            { Date: { } date } => ReceivedAt.From(date),
            _ => null,
        };
    }
}
