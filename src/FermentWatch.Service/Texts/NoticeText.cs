using System.Resources;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Texts;

/// <summary>Writes notices out in words, from <c>Texts/Notices.resx</c>, in the reader's language, zone, units and decimal mark.</summary>
public static class NoticeText
{
    /// <summary>Longest title, in UTF-16 units.</summary>
    public const int LongestTitle = 40;

    /// <summary>Longest text, in UTF-16 units.</summary>
    public const int LongestText = 240;

    // A name is shortened only as far as the rest needs.
    private static readonly int[] NameLengths = [40, 32, 28, 24, 20, 16, 12, 8];

    private static readonly TextSource Source = new("Notices");

    /// <summary>Whether the code has a text.</summary>
    public static bool Knows(string code) => Source.Find(code) is not null;

    /// <summary>Writes out a draft of the outbox.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="reader">The reader's zone, units and decimal mark.</param>
    /// <param name="now">When it is sent: times of the same day are written without the day.</param>
    /// <param name="link">The batch's page: see <see cref="NoticeLink"/>.</param>
    public static NoticeMessage Write(OutboxDraft draft, Reader reader, ReceivedAt now, Uri? link)
    {
        ArgumentNullException.ThrowIfNull(draft);
        ArgumentNullException.ThrowIfNull(reader);
        using var spoken = reader.Language.Speak();
        return new NoticeMessage(
            draft.Thread,
            Fitting(LongestTitle, names => Of(draft.Title, reader, now, names)),
            Fitting(LongestText, names => string.Join(' ', draft.Body.Select(sentence => Of(sentence, reader, now, names)))),
            draft.Severity,
            draft.Silent,
            link)
        {
            Language = reader.Language.Code,
        };
    }

    /// <summary>Writes out one reason.</summary>
    /// <exception cref="MissingManifestResourceException">The code has no text.</exception>
    public static string Of(Reason reason, Reader reader, ReceivedAt now)
    {
        ArgumentNullException.ThrowIfNull(reader);
        using var spoken = reader.Language.Speak();
        return Of(reason, reader, now, NameLengths[0]);
    }

    internal static string Of(Reason reason, Reader reader, ReceivedAt now, int longestName)
    {
        var text = Source.Find(reason.Code)
            ?? throw new MissingManifestResourceException($"Texts/Notices.resx has no text '{reason.Code}'.");
        return Language.Present.Joined(string.Format(
            PluralForms.Present, FixedTemperatures.Written(text, reader.Units.Temperature), [.. reason.Values.Select(value => (object)NoticeFigures.Of(value, reader, now, longestName))]));
    }

    /// <summary>A figure with the word of its unit.</summary>
    internal static string Figure(string key, params ReadOnlySpan<string> numbers) => Source.Of(key, [.. numbers]);

    private static string Fitting(int longest, Func<int, string> write)
    {
        foreach (var names in NameLengths)
        {
            if (write(names) is { } text && text.Length <= longest)
            {
                return text;
            }
        }

        return NoticeFigures.Shortened(write(NameLengths[^1]), longest);
    }
}
