using System.Net;
using System.Security.Cryptography;
using System.Text;
using FermentWatch.Monitoring.Alerting;
using MimeKit;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Writes a notice as a letter: the words as plain text and as simple HTML, nothing that is fetched from elsewhere.</summary>
/// <remarks>
/// Every letter of a thread refers to one message id that is made from the notice's key, so that mail programs show them together
/// (RFC 5322, section 3.6.4). The letter's own id is made from key and words: the same notice sent twice, as after a kill, has the
/// same id and can be told apart from the next one.
/// </remarks>
internal static class MailLetter
{
    public static MimeMessage Write(NoticeMessage message, MailSettings settings, DateTimeOffset date)
    {
        var letter = new MimeMessage { Subject = OneLine(message.Title), Date = date };
        var from = MailboxAddress.Parse(settings.From);
        letter.From.Add(from);
        letter.To.AddRange(settings.To.Select(MailboxAddress.Parse));
        var thread = Id(from, message.Key);
        letter.MessageId = Id(from, message.Key, message.Title, message.Text);
        letter.InReplyTo = thread;
        letter.References.Add(thread);
        letter.Importance = message switch
        {
            { Silent: true } => MessageImportance.Low,
            { Severity: Severity.Urgent } => MessageImportance.High,
            _ => MessageImportance.Normal,
        };
        // No machine should answer it (RFC 3834).
        letter.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        var picture = message.Picture is { } shown ? Picture(shown, Id(from, message.Key, "picture")) : null;
        TextPart html = new("html") { Text = Html(message, picture) };
        letter.Body = new MultipartAlternative
        {
            new TextPart("plain") { Text = Plain(message) },
            picture is null ? html : new MultipartRelated { html, picture },
        };
        return letter;
    }

    private static string Plain(NoticeMessage message)
    {
        var text = new StringBuilder(message.Text).Append('\n');
        if (message.Link is { } link)
        {
            text.Append('\n').Append(link.AbsoluteUri).Append('\n');
        }

        foreach (var act in message.Acts)
        {
            text.Append('\n').Append(act.Label).Append(": ").Append(act.Link.AbsoluteUri).Append('\n');
        }

        return text.ToString();
    }

    private static string Html(NoticeMessage message, MimePart? picture)
    {
        var text = new StringBuilder("<!doctype html>\n<html lang=\"").Append(message.Language).Append("\"><body>\n<p><b>")
            .Append(WebUtility.HtmlEncode(message.Title)).Append("</b></p>\n<p>")
            .Append(WebUtility.HtmlEncode(message.Text)).Append("</p>\n");
        if (picture is not null)
        {
            text.Append("<p><img width=\"480\" height=\"240\" src=\"cid:").Append(picture.ContentId).Append("\" alt=\"")
                .Append(WebUtility.HtmlEncode(message.Picture!.Description)).Append("\"></p>\n");
        }

        if (message.Link is { } link)
        {
            var address = WebUtility.HtmlEncode(link.AbsoluteUri);
            text.Append("<p><a href=\"").Append(address).Append("\">").Append(address).Append("</a></p>\n");
        }

        foreach (var act in message.Acts)
        {
            text.Append("<p><a href=\"").Append(WebUtility.HtmlEncode(act.Link.AbsoluteUri)).Append("\">").Append(WebUtility.HtmlEncode(act.Label)).Append("</a></p>\n");
        }

        return text.Append("</body></html>\n").ToString();
    }

    /// <summary>Inside the letter, so that no mail program has to fetch it (RFC 2392).</summary>
    private static MimePart Picture(NoticePicture picture, string id) => new("image", "png")
    {
        Content = new MimeContent(new MemoryStream(picture.Png.ToArray())),
        ContentTransferEncoding = ContentEncoding.Base64,
        ContentDisposition = new ContentDisposition(ContentDisposition.Inline),
        ContentId = id,
        FileName = "curve.png",
    };

    private static string Id(MailboxAddress from, params string[] parts) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', parts))))[..32] + "@" + from.Domain;

    private static string OneLine(string text) => string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter));
}
