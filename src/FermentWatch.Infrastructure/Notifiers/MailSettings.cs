using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>How the way to a mail server is encrypted.</summary>
public enum MailSecurity
{
    /// <summary>Not at all: for a server on this machine.</summary>
    None = 1,

    /// <summary>In the clear at first, then encrypted by STARTTLS, or not used (RFC 3207).</summary>
    StartTls = 2,

    /// <summary>Encrypted from the first byte (RFC 8314).</summary>
    Tls = 3,
}

/// <summary>A mail server that takes notices, and who gets them.</summary>
/// <param name="Host">Name or address of the server.</param>
/// <param name="Port">TCP port, 1 to 65535.</param>
/// <param name="Security">How the way there is encrypted.</param>
/// <param name="From">Address of the sender, as the server accepts it.</param>
/// <param name="To">Addresses that get every notice; at least one.</param>
public sealed record MailSettings(string Host, int Port, MailSecurity Security, string From, ValueList<string> To)
{
    /// <summary>Name of the channel.</summary>
    public string Channel { get; init; } = "mail";

    /// <summary>User name at the server; null sends without a sign-in.</summary>
    public string? User { get; init; }

    /// <summary>Its password. Never printed.</summary>
    public string? Password { get; init; }

    /// <summary>Longest time for one delivery, from the connection to the server's answer.</summary>
    public TimeSpan AnswerWithin { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Names the channel and the server, nothing else.</summary>
    public override string ToString() => $"{Channel} at {Host}";
}
