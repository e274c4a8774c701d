using System.Net.Sockets;
using FermentWatch.Monitoring.Telemetry;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Sends notices by e-mail: one connection and one letter a notice. What the server says is never logged: it may quote secrets.</summary>
/// <param name="settings">Checked settings.</param>
/// <param name="time">Dates the letters.</param>
public sealed class MailNotifier(MailSettings settings, TimeProvider time) : INotifier
{
    private const int FirstPermanentCode = 500;

    /// <inheritdoc/>
    public string Channel => settings.Channel;

    /// <inheritdoc/>
    public async Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(settings.AnswerWithin);
        try
        {
            using var letter = MailLetter.Write(message, settings, time.GetUtcNow());
            await SendAsync(letter, limit.Token).ConfigureAwait(false);
            return new DeliveryResult.Delivered();
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            return Again("mail-slow", new ReasonValue.Length(settings.AnswerWithin));
        }
        catch (Exception fault) when (Judge(fault) is not null)
        {
            return Judge(fault)!;
        }
    }

    private async Task SendAsync(MimeMessage letter, CancellationToken cancellationToken)
    {
        using var client = new SmtpClient();
        var way = settings.Security switch
        {
            MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
            MailSecurity.StartTls => SecureSocketOptions.StartTls,
            _ => SecureSocketOptions.None,
        };
        await client.ConnectAsync(settings.Host, settings.Port, way, cancellationToken).ConfigureAwait(false);
        if (settings.User is { } user)
        {
            await client.AuthenticateAsync(user, settings.Password ?? string.Empty, cancellationToken).ConfigureAwait(false);
        }

        await client.SendAsync(letter, cancellationToken).ConfigureAwait(false);
        try
        {
            await client.DisconnectAsync(quit: true, cancellationToken).ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is IOException or SocketException or ProtocolException or OperationCanceledException)
        {
            // The server took the letter: how it says goodbye changes nothing.
        }
    }

    /// <summary>What a fault means; null for one that is our own mistake.</summary>
    private static DeliveryResult? Judge(Exception fault) => fault switch
    {
        SslHandshakeException => Again("mail-certificate"),
        AuthenticationException { InnerException: SmtpCommandException { StatusCode: var code } } when (int)code < FirstPermanentCode => Again("mail-busy", Number(code)),
        AuthenticationException => new DeliveryResult.Refused(Reason.Of("mail-forbids")),
        SmtpCommandException { StatusCode: var code } when (int)code < FirstPermanentCode => Again("mail-busy", Number(code)),
        SmtpCommandException { ErrorCode: SmtpErrorCode.RecipientNotAccepted } refused =>
            new DeliveryResult.Refused(Reason.Of("mail-refuses-recipient", new ReasonValue.Name(refused.Mailbox?.Address ?? string.Empty), Number(refused.StatusCode))),
        SmtpCommandException { StatusCode: var code } => new DeliveryResult.Refused(Reason.Of("mail-refuses", Number(code))),
        // The library's word for a server that offers no STARTTLS, or no sign-in.
        NotSupportedException => new DeliveryResult.Refused(Reason.Of("mail-unsupported")),
        ServiceNotAuthenticatedException => new DeliveryResult.Refused(Reason.Of("mail-forbids")),
        ProtocolException or ServiceNotConnectedException => Again("mail-failing"),
        SocketException or IOException => Again("mail-unreachable"),
        _ => null,
    };

    private static ReasonValue.Count Number(SmtpStatusCode code) => new((int)code);

    private static DeliveryResult.TryAgain Again(string code, params ReasonValue[] values) => new(Reason.Of(code, values), NotBefore: null);
}
