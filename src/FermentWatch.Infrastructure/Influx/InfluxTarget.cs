using System.Globalization;
using System.Net;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;
using Polly;
using Polly.Retry;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>Writes lines to a server by the write API of InfluxDB 2. Three tries for a fault that passes at once; everything slower is for the caller.</summary>
public sealed class InfluxTarget : IDisposable
{
    private const int LongestProblem = 300;

    private readonly InfluxSettings _settings;
    private readonly HttpClient _http;
    private readonly InfluxDBClient _client;
    private readonly WriteApiAsync _write;
    private readonly ResiliencePipeline<WriteOutcome> _tries;

    /// <summary>Builds a target. Nothing is sent yet.</summary>
    /// <param name="settings">Where to.</param>
    /// <param name="clock">Times the pauses.</param>
    /// <param name="handler">Stands in the way of each request; null for none.</param>
    public InfluxTarget(InfluxSettings settings, TimeProvider clock, DelegatingHandler? handler = null)
    {
        ArgumentNullException.ThrowIfNull(settings);
        _settings = settings;
        var sockets = new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, PooledConnectionLifetime = TimeSpan.FromMinutes(5) };
        if (handler is not null)
        {
            handler.InnerHandler = sockets;
        }

        _http = new HttpClient((HttpMessageHandler?)handler ?? sockets) { Timeout = Timeout.InfiniteTimeSpan };
        var options = new InfluxDBClientOptions(settings.Url.AbsoluteUri.TrimEnd('/')) { Org = settings.Org, Bucket = settings.Bucket, HttpClient = _http };
        if (settings.Token is { } token)
        {
            options.Token = token;
        }

        _client = new InfluxDBClient(options);
        _client.EnableGzip();
        _write = _client.GetWriteApiAsync();
        _tries = new ResiliencePipelineBuilder<WriteOutcome> { TimeProvider = clock }
            .AddRetry(new RetryStrategyOptions<WriteOutcome>
            {
                MaxRetryAttempts = 3,
                Delay = settings.FirstPause,
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
                ShouldHandle = static arguments => ValueTask.FromResult(arguments.Outcome.Result is WriteOutcome.TryAgain { After: null }),
            })
            .Build();
    }

    /// <summary>Where it writes to, without secrets.</summary>
    public InfluxSettings Settings => _settings;

    /// <summary>Writes lines whose times are nanoseconds.</summary>
    public async Task<WriteOutcome> WriteAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken) =>
        await _tries.ExecuteAsync(async token => await TryAsync(lines, token), cancellationToken);

    /// <inheritdoc/>
    public void Dispose()
    {
        _client.Dispose();
        _http.Dispose();
    }

    private async Task<WriteOutcome> TryAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(_settings.AnswerWithin);
        try
        {
            await _write.WriteRecordsAsync(lines, WritePrecision.Ns, _settings.Bucket, _settings.Org, limit.Token);
            return new WriteOutcome.Written();
        }
        catch (Exception failure) when (limit.IsCancellationRequested && failure is HttpException or HttpRequestException or OperationCanceledException)
        {
            cancellationToken.ThrowIfCancellationRequested();
            return new WriteOutcome.TryAgain(string.Create(CultureInfo.InvariantCulture, $"no answer within {_settings.AnswerWithin.TotalSeconds:0} s"), null);
        }
        catch (HttpException failure) when (failure.Status is { } status and > 0)
        {
            return Judge(status, failure);
        }
        catch (HttpException failure)
        {
            return new WriteOutcome.TryAgain($"not reached: {Words(failure)}", null);
        }
        catch (HttpRequestException failure)
        {
            return new WriteOutcome.TryAgain($"not reached: {Words(failure)}", null);
        }
    }

    private WriteOutcome Judge(int status, HttpException failure)
    {
        var words = string.Create(CultureInfo.InvariantCulture, $"answered {status}: {Words(failure)}");
        return (HttpStatusCode)status switch
        {
            HttpStatusCode.BadRequest or HttpStatusCode.UnprocessableEntity or HttpStatusCode.RequestEntityTooLarge => new WriteOutcome.Refused(words, IsAboutLines: true),
            HttpStatusCode.TooManyRequests or HttpStatusCode.RequestTimeout => new WriteOutcome.TryAgain(words, After(failure)),
            _ when status >= 500 => new WriteOutcome.TryAgain(words, After(failure)),
            _ => new WriteOutcome.Refused(words, IsAboutLines: false),
        };
    }

    private static TimeSpan? After(HttpException failure) =>
        failure.RetryAfter is { } seconds and > 0 ? TimeSpan.FromSeconds(Math.Min(seconds, 3600)) : null;

    /// <summary>One line, bounded, and never the token, whatever the server answered.</summary>
    private string Words(Exception failure)
    {
        var text = new string([.. failure.Message.Select(character => char.IsControl(character) ? ' ' : character)]).Trim();
        if (_settings.Token is { } token)
        {
            text = text.Replace(token, "(token)", StringComparison.Ordinal);
        }

        return text.Length > LongestProblem ? text[..LongestProblem] : text;
    }
}
