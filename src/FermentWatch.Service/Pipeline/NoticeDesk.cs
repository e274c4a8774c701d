using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Pipeline;

/// <summary>Makes a draft of the outbox into what a channel sends: its words for the reader of the house, and the way to its page.</summary>
public sealed class NoticeDesk(PageSettings page, PreferenceBook preferences)
{
    /// <summary>Writes a notice.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="now">When it is sent.</param>
    public NoticeMessage Write(OutboxDraft draft, ReceivedAt now)
    {
        ArgumentNullException.ThrowIfNull(draft);
        var link = NoticeLink.To(draft.Batch, preferences.Present.BaseUrl, page.Address.IsLoopback);
        return NoticeText.Write(draft, preferences.Reader, now, link);
    }
}
