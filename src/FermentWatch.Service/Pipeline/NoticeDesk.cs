using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.Service.Dashboard.Pictures;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Pipeline;

/// <summary>Makes a draft of the outbox into what a channel sends: its words for its reader, the way to its page, what can be said about it, and its curve.</summary>
public sealed class NoticeDesk(PageSettings page, PreferenceBook preferences, Store store, Board board, ActLinks links)
{
    /// <summary>Writes a notice.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="now">When it is sent.</param>
    /// <param name="own">Units, decimal mark and zone that its reader chose; empty for the house's.</param>
    public NoticeMessage Write(OutboxDraft draft, ReceivedAt now, IReadOnlyDictionary<string, string> own)
    {
        ArgumentNullException.ThrowIfNull(draft);
        var reader = preferences.ReaderOf(own);
        using var spoken = reader.Language.Speak();
        var (address, isLoopbackOnly) = (preferences.Present.BaseUrl, page.IsForThisMachineAlone);
        return NoticeText.Write(draft, reader, now, draft.IsOfSeveralBatches ? NoticeLink.ToAlerts(address, isLoopbackOnly) : NoticeLink.To(draft.Batch, address, isLoopbackOnly)) with
        {
            Acts = !draft.Silent && NoticeLink.Root(address, isLoopbackOnly) is { } root && IsStanding(draft)
                ? links.For(root, draft.Thread)
                : ValueList.Of<NoticeAct>(),
            Picture = board.State.Snapshot.Find(draft.Batch.Value) is { } entry ? NoticeCurve.Of(entry.View, reader) : null,
        };
    }

    /// <summary>Nothing can be said about what is over or was taken back.</summary>
    private bool IsStanding(OutboxDraft draft) => store.ReadThread(draft.Thread).Any(one => one.Alert.Standing is AlertStanding.Raised);
}
