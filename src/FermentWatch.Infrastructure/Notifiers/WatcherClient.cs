namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>How the watcher outside of the house is asked for.</summary>
public static class WatcherClient
{
    private const int LongestAnswerBytes = 64 * 1024;

    private static readonly TimeSpan AnswerWithin = TimeSpan.FromSeconds(10);

    /// <summary>A client that follows no redirect, keeps no cookie, waits 10 s at most and reads 64 kB at most. The caller disposes it.</summary>
    public static HttpClient Create() => new(
        new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = false,
            MaxResponseDrainSize = LongestAnswerBytes,
            ResponseDrainTimeout = TimeSpan.FromSeconds(1),
            PooledConnectionLifetime = TimeSpan.FromMinutes(5),
        })
    {
        Timeout = AnswerWithin,
        MaxResponseContentBufferSize = LongestAnswerBytes,
    };
}
