using System.Net;
using FermentWatch.Monitoring.Telemetry;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>
/// Sends the requests of every HTTP channel. Three quick tries for a fault that passes at once; everything slower is for
/// <see cref="DeliverySchedule"/>. Connects only where <see cref="OutgoingRules"/> let it, follows no redirect, uses no proxy, keeps no
/// cookie, reads no answer beyond its head.
/// </summary>
/// <remarks>Its reasons begin with the channel's word: WORD-slow, -certificate, -unreachable, -redirects, -busy, -failing, -forbids, -refuses; each needs its text.</remarks>
public sealed class GuardedHttp : IDisposable
{
    // An answer's body is never read: with one still coming the connection is closed, since notices are rare and an endless one is cheap to send.
    private const int DrainedBytes = 0;
    private const int LongestHeadKilobytes = 16;

    private readonly string _word;
    private readonly TimeSpan _answerWithin;
    private readonly TimeProvider _time;
    private readonly HttpClient _client;
    private readonly ResiliencePipeline<HttpResponseMessage> _tries;

    /// <param name="word">First word of its reasons.</param>
    /// <param name="rules">Where requests may go.</param>
    /// <param name="answerWithin">Longest wait for one answer.</param>
    /// <param name="time">For waits and dates.</param>
    public GuardedHttp(string word, OutgoingRules rules, TimeSpan answerWithin, TimeProvider time)
    {
        (_word, _answerWithin, _time) = (word, answerWithin, time);
        _client = new HttpClient(
            new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseCookies = false,
                UseProxy = false,
                MaxResponseHeadersLength = LongestHeadKilobytes,
                MaxResponseDrainSize = DrainedBytes,
                ResponseDrainTimeout = TimeSpan.FromSeconds(1),
                PooledConnectionLifetime = TimeSpan.FromMinutes(5),
                ConnectCallback = (context, stop) => OutgoingGuard.ConnectAsync(context.DnsEndPoint, rules, stop),
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
            .AddTimeout(answerWithin)
            .Build();
    }

    /// <summary>Sends a request, made anew for each try, and says what became of it.</summary>
    /// <param name="request">Makes the request.</param>
    /// <param name="special">What a status means at this channel alone; null for the usual meaning.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    public async Task<DeliveryResult> SendAsync(Func<HttpRequestMessage> request, Func<int, DeliveryResult?>? special, CancellationToken cancellationToken)
    {
        try
        {
            using var answer = await _tries.ExecuteAsync(
                async token =>
                {
                    using var one = request();
                    return await _client.SendAsync(one, HttpCompletionOption.ResponseHeadersRead, token);
                },
                cancellationToken);
            return special?.Invoke((int)answer.StatusCode) ?? Judge(answer);
        }
        catch (TimeoutRejectedException)
        {
            return Again("slow", new ReasonValue.Length(_answerWithin));
        }
        catch (HttpRequestException exception) when (exception.InnerException is ForbiddenAddressException forbidden)
        {
            // A name server that lies for an hour, as before somebody signed in to a network, is no reason to give a notice up.
            return new DeliveryResult.TryAgain(forbidden.Because, NotBefore: null);
        }
        catch (HttpRequestException exception)
        {
            return exception.HttpRequestError is HttpRequestError.SecureConnectionError ? Again("certificate") : Again("unreachable");
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private static bool PassesAtOnce(Outcome<HttpResponseMessage> outcome) => outcome switch
    {
        { Exception: HttpRequestException { InnerException: ForbiddenAddressException } } => false,
        { Exception: HttpRequestException fault } => fault.HttpRequestError is not HttpRequestError.SecureConnectionError,
        { Result: { } answer } => answer.Headers.RetryAfter is null
            && answer.StatusCode is HttpStatusCode.BadGateway or HttpStatusCode.ServiceUnavailable or HttpStatusCode.GatewayTimeout,
        _ => false,
    };

    private DeliveryResult.TryAgain Again(string end, params ReasonValue[] values) => new(Reason.Of($"{_word}-{end}", values), NotBefore: null);

    private DeliveryResult Judge(HttpResponseMessage answer)
    {
        var status = (int)answer.StatusCode;
        var number = new ReasonValue.Count(status);
        return status switch
        {
            >= 200 and < 300 => new DeliveryResult.Delivered(),
            // Also what a network answers before somebody signed in to it: not followed, but tried again.
            >= 300 and < 400 => Again("redirects", number),
            429 => new DeliveryResult.TryAgain(Reason.Of(_word + "-busy", number), RetryAfter(answer)),
            408 or 425 or >= 500 => new DeliveryResult.TryAgain(Reason.Of(_word + "-failing", number), RetryAfter(answer)),
            401 or 403 => new DeliveryResult.Refused(Reason.Of(_word + "-forbids", number)),
            _ => new DeliveryResult.Refused(Reason.Of(_word + "-refuses", number)),
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
