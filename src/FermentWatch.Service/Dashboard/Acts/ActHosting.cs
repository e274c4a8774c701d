using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Acts;

/// <summary>Takes what people say about alerts.</summary>
public static class ActHosting
{
    /// <summary>Address of the form, from the root of the pages.</summary>
    public const string Path = "alerts/act";

    // Where a batch's key would be.
    private static readonly BatchId Service = new("");

    /// <summary>In the address of the list of alerts: what somebody wanted to act on was over.</summary>
    public const string OverMark = "over";

    /// <summary>Route of the links in notices.</summary>
    public const string LinkRoute = "/" + ActLinks.Path + "{token}";

    /// <summary>Puts the forms under the root of the pages.</summary>
    public static void MapActs(this WebApplication app)
    {
        app.MapForm("/" + Path, ActAsync);
        app.MapMethods(LinkRoute, ["GET", "HEAD"], ShowLinkAsync);
        app.MapForm(LinkRoute, FollowLinkAsync);
    }

    /// <summary>Looks at what the link would say: changes nothing, whoever opens it, such as a mail program that looks ahead.</summary>
    private static Task ShowLinkAsync(HttpContext context, string token)
    {
        var (store, board) = (context.RequestServices.GetRequiredService<Store>(), context.RequestServices.GetRequiredService<Board>());
        var link = context.RequestServices.GetRequiredService<ActLinks>().Read(token);
        var standing = link is null ? null : store.ReadThread(link.Thread).FirstOrDefault(one => one.Alert.Standing is AlertStanding.Raised);
        return AccessAnswers.Page<ActLinkPage>(context, link is null ? StatusCodes.Status404NotFound : StatusCodes.Status200OK, new()
        {
            ["Link"] = link,
            ["Standing"] = standing,
            ["Batch"] = standing is null ? "" : board.State.Snapshot.Find(standing.Batch.Value)?.View.Batch.Name ?? standing.Batch.Value,
            ["IsUsed"] = link is not null && store.IsLinkUsed(link.Id),
        });
    }

    private static async Task<IResult> FollowLinkAsync(SentForm form, CancellationToken cancellationToken)
    {
        var token = form.Context.Request.RouteValues["token"]?.ToString() ?? "";
        if (form.Service<ActLinks>().Read(token) is { } link)
        {
            var at = ReceivedAt.From(form.Service<TimeProvider>().GetUtcNow());
            using var hold = await form.Service<ServiceStanding>().HoldAsync(cancellationToken);
            var (outcome, batches) = await form.Service<Store>().ActByLinkAsync(link.Thread, link.Act, link.Id, link.Ends, at, cancellationToken);
            form.Service<PipelineSignals>().Touch([.. batches.Where(batch => batch != Service)]);
            if (outcome is ActOutcome.Done && batches.Contains(Service))
            {
                Acted(form);
            }
        }

        return FormHosting.Back(form, ActLinks.Path + Uri.EscapeDataString(token));
    }

    private static async Task<IResult> ActAsync(SentForm form, CancellationToken cancellationToken)
    {
        if (ActWords.Find(form["act"]) is not { } act || form["batch"] is not { } batch || (batch.Length == 0 && act is AlertAct.SnoozeEvent) || form["alert"] is not { Length: > 0 } alert)
        {
            return Results.BadRequest(ActText.Of("fault", form["act"], string.Join(", ", ActWords.All.Concat(ActWords.Snoozes).Select(one => one.Word))));
        }

        if (batch.Length == 0)
        {
            return await ActOnServiceAsync(form, alert, act, cancellationToken);
        }

        var before = Find(form, batch, alert);
        var at = ReceivedAt.From(form.Service<TimeProvider>().GetUtcNow());
        var outcome = await form.Service<Store>().ActAsync(new BatchId(batch), alert, act, at, cancellationToken, form.Service<PreferenceBook>().Present.Zone);
        if (outcome is ActOutcome.NotStanding)
        {
            return FormHosting.Back(form, "alerts?" + OverMark);
        }

        form.Service<PipelineSignals>().Touch([new BatchId(batch)]);
        // Until the board says so, so that the page that follows shows what was said; it is not waited for long.
        for (var i = 0; outcome is ActOutcome.Done && i < 50 && Find(form, batch, alert) is { } now && now == before; i++)
        {
            await Task.Delay(100, cancellationToken);
        }

        return FormHosting.Back(form, form["page"] == "batch" ? "batch/" + Uri.EscapeDataString(batch) : "alerts");
    }

    /// <summary>What is said about the service itself: no batch is revised, and the pages follow at once.</summary>
    private static async Task<IResult> ActOnServiceAsync(SentForm form, string alert, AlertAct act, CancellationToken cancellationToken)
    {
        using var hold = await form.Service<ServiceStanding>().HoldAsync(cancellationToken);
        var at = ReceivedAt.From(form.Service<TimeProvider>().GetUtcNow());
        var outcome = await form.Service<Store>().ActAsync(Service, alert, act, at, cancellationToken, form.Service<PreferenceBook>().Present.Zone);
        if (outcome is ActOutcome.NotStanding)
        {
            return FormHosting.Back(form, "alerts?" + OverMark);
        }

        Acted(form);
        bool IsShown() => form.Service<Board>().State.Snapshot.Status.Alerts.SequenceEqual(form.Service<ServiceStanding>().Open);
        for (var i = 0; i < 50 && !IsShown(); i++)
        {
            await Task.Delay(100, cancellationToken);
        }

        return FormHosting.Back(form, "alerts");
    }

    private static void Acted(SentForm form)
    {
        if (form.Service<Store>().ReadAlertSet(null) is { } stored)
        {
            form.Service<ServiceStanding>().Acted(ServiceSet.Read(stored));
            form.Service<PipelineSignals>().Facts.Set();
        }
    }

    private static OpenAlert? Find(SentForm form, string batch, string alert) =>
        form.Service<Board>().State.Snapshot.Find(batch)?.Alerts.FirstOrDefault(one => one.Key == alert);
}
