namespace FermentWatch.Infrastructure.Influx;

/// <summary>A time-series server that takes writes as InfluxDB 2 does, and where in it the copy goes.</summary>
/// <param name="Url">Its address; http or https.</param>
/// <param name="Org">Organization; servers without organizations pass it over.</param>
/// <param name="Bucket">Bucket, or database where the server has databases.</param>
/// <param name="Site">Value of the tag <c>site</c>: tells the copies of several services apart that go to one bucket.</param>
public sealed record InfluxSettings(Uri Url, string Org, string Bucket, string Site)
{
    /// <summary>Token that may write to the bucket; null sends none. Never printed.</summary>
    public string? Token { get; init; }

    /// <summary>Longest time for one answer.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>First pause after a fault that may pass at once; doubled for each of the three tries after it.</summary>
    public TimeSpan FirstPause { get; init; } = TimeSpan.FromMilliseconds(500);

    /// <summary>Where the copy goes, without secrets: when it changes, the copy begins anew.</summary>
    public string Target => string.Join('|', Url.GetLeftPart(UriPartial.Path), Org, Bucket, Site);

    /// <summary>Without the token.</summary>
    public override string ToString() => Target;
}
