using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>A push relay that takes notices by HTTP. The address may hold a secret topic, so it is kept as one, like the token.</summary>
public sealed record RelaySettings
{
    /// <summary>Address of the topic: absolute, http or https, without user and password in it.</summary>
    public required Uri Url { get; init; }

    /// <summary>Sent as a bearer token when set: printable ASCII without spaces.</summary>
    public string? BearerToken { get; init; }

    /// <summary>What is posted: see <see cref="RelayTemplate"/>.</summary>
    public string Body { get; init; } = RelayTemplate.Default;

    /// <summary>What {priority} becomes for silent, normal, important and urgent notices, in this order. Whole numbers are sent as numbers.</summary>
    public ValueList<string> Priorities { get; init; } = ValueList.Of("silent", "normal", "important", "urgent");

    /// <summary>Name of the channel.</summary>
    public string Channel { get; init; } = "relay";

    /// <summary>Longest wait for one answer. 1 to 60 s.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>The first thing that is wrong, with what would be right and without any secret; null when all is well.</summary>
    public string? Fault()
    {
        if (!Url.IsAbsoluteUri || (Url.Scheme != Uri.UriSchemeHttp && Url.Scheme != Uri.UriSchemeHttps))
        {
            return "Url must be an absolute address that begins with http:// or https://.";
        }

        if (Url.UserInfo.Length > 0)
        {
            return "Url must hold no user and password: use BearerToken.";
        }

        if (BearerToken is { } token && (token.Length == 0 || token.Any(letter => letter is <= ' ' or > '~')))
        {
            return "BearerToken must be printable ASCII without spaces, or left out.";
        }

        if (Priorities.Count != 4)
        {
            return $"Priorities must be four values, for silent, normal, important and urgent notices; it has {Priorities.Count}.";
        }

        return AnswerWithin < TimeSpan.FromSeconds(1) || AnswerWithin > TimeSpan.FromSeconds(60)
            ? $"AnswerWithin must be 1 to 60 seconds; it is {AnswerWithin.TotalSeconds:0.###}."
            : RelayTemplate.FaultOf(Body);
    }

    /// <summary>Names the channel and the relay's host, nothing else.</summary>
    public override string ToString() => $"{Channel} at {(Url.IsAbsoluteUri ? Url.Host : "?")}";
}
