using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.InOut;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Help;

/// <summary>The pages for when the maker is away, and of how good the alerts are.</summary>
internal static class HelpHosting
{
    private const string Path = "away";
    private const int NewestNotices = 5000;

    /// <summary>Puts them under the root of the pages.</summary>
    public static void MapHelp(this WebApplication app)
    {
        app.MapMethods("/" + Path, ["GET", "HEAD"], context => InOutPages.Page<AwayPage>(context, Away(context, null, null)).ExecuteAsync(context));
        app.MapForm("/" + Path, KeepAsync);
        app.MapForm("/alert-health", async (form, cancellationToken) =>
            await form.Service<ChannelCare>().ConfirmAsync(form["channel"], cancellationToken) ? FormHosting.Back(form, "alert-health") : Results.NotFound());
        app.MapMethods("/alert-health", ["GET", "HEAD"], context => InOutPages.Page<HealthPage>(context, Health(context)).ExecuteAsync(context));
    }

    private static async Task<IResult> KeepAsync(SentForm form, CancellationToken cancellationToken)
    {
        var (zone, now) = (form.Service<PreferenceBook>().Present.Zone, form.Service<TimeProvider>().GetUtcNow());
        var text = form["until"];
        ReceivedAt? until = null;
        if (text.Length > 0)
        {
            if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
                || day < DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(now, zone).Date)
                || day > DateOnly.FromDateTime(now.UtcDateTime).AddDays(366))
            {
                return FormHosting.Again<AwayPage>(form, Away(form.Context, text, HelpText.Of("away-until-fault", text)));
            }

            // The whole day is meant.
            until = QuietHours.MomentOf(day.AddDays(1).ToDateTime(TimeOnly.MinValue), zone);
        }

        var people = Helpers(form.Context).Select(person => person.Id).ToHashSet();
        long Person(string field) => long.TryParse(form[field], NumberStyles.None, CultureInfo.InvariantCulture, out var id) && people.Contains(id) ? id : 0;
        var book = form.Service<HelpBook>();
        await book.KeepAsync(
            new HelpWishes
            {
                AwayFrom = until is null ? null : ReceivedAt.From(now).UnixMicroseconds,
                AwayUntil = until?.UnixMicroseconds,
                Helper = Person("helper"),
                Second = Person("second"),
            },
            cancellationToken);
        return FormHosting.Back(form, Path);
    }

    private static Dictionary<string, object?> Away(HttpContext context, string? until, string? fault)
    {
        var services = context.RequestServices;
        var zone = services.GetRequiredService<PreferenceBook>().Present.Zone;
        var wishes = services.GetRequiredService<HelpBook>().Present;
        var now = ReceivedAt.From(services.GetRequiredService<TimeProvider>().GetUtcNow());
        var kept = wishes.AwayUntil is { } end && new ReceivedAt(end) > now
            ? TimeZoneInfo.ConvertTime(new ReceivedAt(end - 1).ToDateTimeOffset(), zone).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
            : "";
        var batches = Batches(context).Select(batch => (batch.Entry.View, batch.Set)).ToList();
        return new()
        {
            ["Ahead"] = Foresight.Of(batches, services.GetRequiredService<AlertSettings>(), now, zone),
            ["Wishes"] = wishes,
            ["People"] = Helpers(context),
            ["Until"] = until ?? kept,
            ["Fault"] = fault,
        };
    }

    private static Dictionary<string, object?> Health(HttpContext context)
    {
        var services = context.RequestServices;
        var store = services.GetRequiredService<Store>();
        var now = ReceivedAt.From(services.GetRequiredService<TimeProvider>().GetUtcNow());
        var log = store.ReadOutbox(NewestNotices).Where(row => row is { State: OutboxState.Sent, Batch: not null, FinishedAt: not null }).Select(Logged).ToList();
        var batches = Batches(context).Select(batch => (batch.Entry.View.Batch.Id, Since(batch.Entry.View), batch.Set)).ToList();
        var heartbeat = services.GetRequiredService<Heartbeat>();
        var reader = DashboardHosting.VisitOf(context).Reader;
        return new()
        {
            ["Health"] = AlertHealth.Of(batches, store.ReadLedger() is { } ledger ? AlertJson.ReadLedger(ledger) : NoticeLedger.Empty, log, now),
            ["Channels"] = services.GetRequiredService<ChannelCare>().All(),
            ["Watcher"] = heartbeat switch
            {
                { Address: null } => HelpText.Of("watcher-none"),
                { TakenAt: { } at } => HelpText.Of("watcher-taken", heartbeat.Address, reader.Moment(at)),
                _ => HelpText.Of("watcher-not-yet", heartbeat.Address),
            },
        };
    }

    private static LoggedNotice Logged(OutboxRow row)
    {
        var draft = AlertJson.ReadDraft(row.Body);
        return new LoggedNotice(draft.Batch, row.Channel, row.FinishedAt!.Value, !draft.Silent && draft.Severity is not Severity.Urgent);
    }

    private static EventTime Since(BatchView view) => view.Batch.InoculatedAt.UnixMicroseconds > 0 ? view.Batch.InoculatedAt
        : view.Sensors.Select(status => (EventTime?)status.AttachedFrom).Min() ?? view.Now;

    private static IEnumerable<(BoardEntry Entry, AlertSet Set)> Batches(HttpContext context)
    {
        var store = context.RequestServices.GetRequiredService<Store>();
        return context.RequestServices.GetRequiredService<Board>().State.Snapshot.Entries
            .Select(entry => (entry, store.ReadAlertSet(entry.View.Batch.Id) is { } json ? AlertJson.ReadSet(json) : AlertSet.Empty));
    }

    /// <summary>People whom a notice can reach.</summary>
    private static IReadOnlyList<Person> Helpers(HttpContext context)
    {
        var reached = context.RequestServices.GetRequiredService<WishBook>().Listeners();
        return [.. context.RequestServices.GetRequiredService<Store>().ReadPeople()
            .Where(person => reached.Any(listener => listener.Name.StartsWith(WishBook.PrefixOf(person.Id), StringComparison.Ordinal)))];
    }
}
